// Keeping and sharing: what survives a reload, a kill, a turned phone, another tab, a broken store; links, files, the shelf.
import { readFile } from "node:fs/promises";
import {
  choose, closePanel, everything, field, figure, figures, go, kept, link, message, newDesign, panel, saved, shown, type, unfold,
} from "./page.mjs";

/** Storage that is full from now on, once `window.fill` is set. */
const FULL_STORAGE = () => {
  const set = Storage.prototype.setItem;
  Storage.prototype.setItem = function setItem(key, value) {
    if (window.fill) throw new DOMException("The quota has been exceeded.", "QuotaExceededError");
    return set.call(this, key, value);
  };
};

const BLOCKED_STORAGE = () => {
  Object.defineProperty(window, "localStorage", {
    get() {
      throw new DOMException("The operation is insecure.", "SecurityError");
    },
  });
};

const reload = async (ctx, page) => {
  await page.reload();
  await ctx.running(page);
};

/** Names of the designs in the list. */
async function designs(page) {
  await panel(page, "design");
  const names = await page.locator("ul.list li .jump", { hasNotText: "Take" }).evaluateAll((keys) =>
    keys.map((key) => key.firstChild.textContent));
  await closePanel(page);
  return names;
}

const name = (page) => page.locator("header.title b").first().innerText();

async function rename(page, text) {
  await panel(page, "design");
  await type(page, "Name of the job", text);
  await closePanel(page);
}

/** Opens a design of the list by its name. */
async function openListed(page, text) {
  await panel(page, "design");
  await page.locator("ul.list").first().getByRole("button", { name: text, exact: true }).click();
}

/** Ends the page's process at once: a killed page gets no event to save on. */
async function kill(profile, page) {
  const session = await profile.newCDPSession(page);
  const crashed = page.waitForEvent("crash");
  session.send("Page.crash").catch(() => {});
  await crashed;
}

const fragment = async (page) => (await link(page)).replace(/^[^#]*/, "");

export default {
  "a reload keeps every number, a draft too": async (ctx) => {
    const { page } = await ctx.open();
    await type(page, "Wanted Qtc", "0,74");
    await type(page, "Electrical Q, Qes", "0.5x");
    await rename(page, "Kept");
    const before = await everything(page);
    await saved(page, "0.5x");
    await saved(page, "Kept");
    await reload(ctx, page);
    ctx.equal(await everything(page), before, "what is shown");
    await go(page, "Desk");
    ctx.equal(await field(page, "Electrical Q, Qes").inputValue(), "0.5x", "unfinished text");
    ctx.equal(await field(page, "Electrical Q, Qes").getAttribute("aria-invalid"), "true", "and its mark");
    ctx.equal(await name(page), "Kept", "name");
  },

  "a kill 320 ms after the last key loses nothing": async (ctx) => {
    const { site, profile, page } = await ctx.open();
    await page.waitForTimeout(500);
    await field(page, "Wanted Qtc").click();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("0.76");
    await page.waitForTimeout(320);
    await kill(profile, page);
    const next = await ctx.page(profile);
    await next.goto(site.url);
    await ctx.running(next);
    ctx.equal(await field(next, "Wanted Qtc").inputValue(), "0.76", "typed value");
  },

  "a kill in the middle of steady typing loses 300 ms at most": async (ctx) => {
    const { site, profile, page } = await ctx.open();
    await panel(page, "design");
    await field(page, "Name of the job").fill("");
    let typed = "";
    const times = [];
    for (const letter of "abcdefghijklmnopqrst") {
      await page.keyboard.type(letter);
      typed += letter;
      times.push(performance.now());
      await page.waitForTimeout(60);
    }
    const killed = performance.now();
    await kill(profile, page);
    const next = await ctx.page(profile);
    await next.goto(site.url);
    await ctx.running(next);
    const found = await name(next);
    const safe = times.filter((time) => time < killed - 300).length;
    ctx.check(typed.startsWith(found) && found.length >= safe, `found "${found}", ${safe} letters were older than 300 ms`);
    ctx.check(safe >= 10, `only ${safe} letters were old enough to judge by`);
  },

  "closing a tab at once after a key loses nothing": async (ctx) => {
    const { site, profile, page } = await ctx.open();
    await page.waitForTimeout(500);
    await type(page, "Wanted Qtc", "0.77");
    await page.close({ runBeforeUnload: true });
    const next = await ctx.page(profile);
    await next.goto(site.url);
    await ctx.running(next);
    ctx.equal(await field(next, "Wanted Qtc").inputValue(), "0.77", "typed value");
  },

  "turning the phone keeps a half-typed value and what is open": async (ctx) => {
    const { page } = await ctx.open();
    await unfold(page);
    await type(page, "Moving mass, Mms", "14.");
    const folds = await page.locator('.foldkey[aria-expanded="true"]').count();
    const cursor = page.getByRole("slider", { name: /Read the curves/ });
    for (const viewport of [{ width: 844, height: 390 }, { width: 390, height: 844 }]) {
      await page.setViewportSize(viewport);
      await page.waitForTimeout(200);
      ctx.equal(await field(page, "Moving mass, Mms").inputValue(), "14.", "half-typed value");
      ctx.equal(await page.evaluate(() => document.activeElement?.id), "f23", "focus");
      ctx.equal(await page.locator('.foldkey[aria-expanded="true"]').count(), folds, "open folds");
      ctx.check(await cursor.isVisible(), "the cursor");
      // Charts out of sight are drawn again a little later than those in sight.
      await page.waitForFunction(() => [...document.querySelectorAll("[data-chart] canvas")].every((one) =>
        Math.abs(one.width - one.getBoundingClientRect().width * devicePixelRatio) <= 1.5));
    }
    await page.keyboard.type("2");
    ctx.equal(await field(page, "Moving mass, Mms").inputValue(), "14.2", "typing goes on");
  },

  "a link gives the same numbers on another phone": async (ctx) => {
    const { site, page } = await ctx.open();
    await type(page, "Wanted Qtc", "0,73");
    await rename(page, "Sent Ωß");
    const before = await everything(page);
    const address = await link(page);
    ctx.check(address.startsWith(`${site.url}#d=1.`), `link ${address.slice(0, 60)}`);
    const other = await ctx.open({ site, path: address.slice(site.url.length) });
    ctx.equal(await everything(other.page), before, "what is shown");
    ctx.equal(await name(other.page), "Sent Ωß", "name");
    ctx.equal(new URL(other.page.url()).hash, "", "the fragment goes once it is read");
    ctx.check((await message(other.page).innerText()).includes("Opened from a link"), "the page says so");
  },

  "the demo's whole link fits a version-20 QR code": async (ctx) => {
    const { page } = await ctx.open();
    const address = await link(page);
    // ISO/IEC 18004: version 20, level M holds 666 bytes; 660 with some to spare.
    const bytes = Buffer.byteLength(address);
    ctx.check(bytes > 100 && bytes <= 660, `${bytes} bytes`);
  },

  "a link opened while the page is open leaves the present design alone": async (ctx) => {
    const { site, page } = await ctx.open();
    await rename(page, "Mine");
    await type(page, "Wanted Qtc", "0.8");
    const sent = await fragment(page);
    await rename(page, "Mine still");
    await type(page, "Wanted Qtc", "0.75");
    const mine = await figures(page);
    await page.evaluate((hash) => { location.hash = hash; }, sent);
    await message(page).waitFor();
    ctx.equal(await name(page), "Mine", "the linked design is open");
    ctx.equal(await field(page, "Wanted Qtc").inputValue(), "0.8", "its value");
    await saved(page, "0.8");
    ctx.equal((await designs(page)).sort(), ["Mine", "Mine still"], "designs kept");
    await openListed(page, "Mine still");
    ctx.equal(await figures(page), mine, "the earlier design's figures");
    // The same link again is again a design of its own.
    await page.goto(`${site.url}${sent}`);
    await message(page).waitFor();
    await saved(page, "0.8");
    ctx.equal((await designs(page)).sort(), ["Mine", "Mine", "Mine still"], "designs kept after the same link again");
  },

  "a pasted link opens": async (ctx) => {
    const { page } = await ctx.open();
    await rename(page, "Pasted");
    const address = await link(page);
    await newDesign(page);
    ctx.equal(await name(page), "Unnamed job", "an empty design");
    await panel(page, "design");
    await page.locator("[data-paste]").fill(`Have a look: ${address}\n`);
    await page.getByRole("button", { name: "Open the link" }).click();
    await message(page).waitFor();
    ctx.equal(await name(page), "Pasted", "name");
  },

  "a cut link and a changed link are told apart and touch nothing": async (ctx) => {
    const { page } = await ctx.open();
    const before = await everything(page);
    const good = await fragment(page);
    const body = good.slice("#d=1.".length);
    const middle = Math.floor(body.length / 2);
    const other = body[middle] === "A" ? "B" : "A";
    const bad = {
      cut: good.slice(0, -20),
      "cut to half": good.slice(0, good.length / 2),
      changed: `#d=1.${body.slice(0, middle)}${other}${body.slice(middle + 1)}`,
      "of a later version": good.replace("#d=1.", "#d=99."),
      empty: "#d=1.",
      "too long": `#d=1.${"A".repeat(200_000)}`,
    };
    const said = {};
    for (const [what, hash] of Object.entries(bad)) {
      await page.evaluate((hash) => { location.hash = hash; }, hash);
      await message(page).waitFor();
      said[what] = await message(page).innerText();
      await page.locator(".messages").getByRole("button", { name: "Close" }).click();
      ctx.equal(await name(page), "Demo: hatchback, folded seat", `design after a link ${what}`);
    }
    ctx.check(/cut short/.test(said.cut) && /cut short/.test(said["cut to half"]), `cut: ${said.cut}; ${said["cut to half"]}`);
    ctx.check(/changed on its way/.test(said.changed), `changed: ${said.changed}`);
    ctx.check(/newer version/.test(said["of a later version"]), `later version: ${said["of a later version"]}`);
    ctx.check(/longer than any/.test(said["too long"]), `too long: ${said["too long"]}`);
    for (const text of ["", "hello", "https://example.org/", "#d=", "d=1.!!!!"]) {
      await panel(page, "design");
      await page.locator("[data-paste]").fill(text);
      await page.getByRole("button", { name: "Open the link" }).click();
      await message(page).waitFor();
      await page.locator(".messages").getByRole("button", { name: "Close" }).click();
    }
    ctx.equal(await everything(page), before, "what is shown");
    ctx.equal((await designs(page)).length, 1, "designs");
  },

  "a design goes out as a file and comes in again": async (ctx) => {
    const { site, page } = await ctx.open();
    await type(page, "Wanted Qtc", "0,72");
    await go(page, "Saw");
    await page.locator(".tick input").first().check();
    const before = await everything(page);
    await panel(page, "design");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as a file" }).click(),
    ]);
    ctx.equal(download.suggestedFilename(), "demo-hatchback-folded-seat.kerf-and-coil.json", "file name");
    const text = await readFile(await download.path(), "utf8");
    ctx.equal(JSON.parse(text).format, "kerf-and-coil", "format");
    const other = await ctx.open({ site });
    const load = async (content, named = "design.json") => {
      await panel(other.page, "design");
      const [chooser] = await Promise.all([
        other.page.waitForEvent("filechooser"),
        other.page.getByRole("button", { name: "Open a file" }).click(),
      ]);
      await chooser.setFiles({ name: named, mimeType: "application/json", buffer: Buffer.from(content) });
      await message(other.page).waitFor();
    };
    await load(text);
    ctx.check((await message(other.page).innerText()).includes("Opened from a file"), "the page says so");
    ctx.equal(await everything(other.page), before, "what is shown");
    await go(other.page, "Saw");
    ctx.check(await other.page.locator(".tick input").first().isChecked(), "the tick came along");
    for (const content of ["", "{}", "not json", "[1,2,3]", '{"format":"kerf-and-coil","version":99}', text.slice(0, 200)]) {
      await other.page.locator(".messages").getByRole("button", { name: "Close" }).click();
      await load(content);
      ctx.check(!(await message(other.page).innerText()).includes("Opened"), `a file "${content.slice(0, 20)}" is refused`);
    }
    ctx.equal(await everything(other.page), before, "what is shown after bad files");
  },

  "the shelf: a driver put there fills a new design": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "design");
    for (const record of ["Invented ten-inch, 2 × 2 Ω", "Invented hatchback"]) {
      await page.locator(".shelf").getByRole("button", { name: new RegExp(`^${record.replaceAll(/[()]/g, ".")}.*Put on the shelf$`) }).click();
    }
    await page.getByRole("button", { name: "New design" }).click();
    await panel(page, "design");
    for (const record of ["Invented ten-inch", "Invented hatchback"]) {
      await page.locator(".shelf").getByRole("button", { name: new RegExp(`^${record}.*Take$`) }).click();
    }
    await go(page, "Desk");
    ctx.equal(await field(page, "Compliance volume, Vas").inputValue(), "33", "Vas");
    ctx.equal(await field(page, "Driver").inputValue(), "Invented ten-inch, 2 × 2 Ω", "driver");
    await go(page, "Saw");
    ctx.equal(await field(page, "Free width").inputValue(), "720", "free width");
    // A copy: changing it does not change the shelf.
    await go(page, "Desk");
    await type(page, "Compliance volume, Vas", "44");
    await newDesign(page);
    await panel(page, "design");
    await page.locator(".shelf").getByRole("button", { name: /^Invented ten-inch.*Take$/ }).click();
    await go(page, "Desk");
    ctx.equal(await field(page, "Compliance volume, Vas").inputValue(), "33", "Vas on the shelf");
    await page.getByRole("button", { name: "Undo" }).click();
    ctx.equal(await field(page, "Compliance volume, Vas").inputValue(), "", "taking is undone in one step");
  },

  "taking from the shelf and undo replace an unfinished text": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "design");
    await page.locator(".shelf").getByRole("button", { name: /^Invented ten-inch.*Put on the shelf$/ }).click();
    await newDesign(page);
    await go(page, "Desk");
    await type(page, "Compliance volume, Vas", "4x");
    await panel(page, "design");
    await page.locator(".shelf").getByRole("button", { name: /^Invented ten-inch.*Take$/ }).click();
    await go(page, "Desk");
    ctx.equal(await field(page, "Compliance volume, Vas").inputValue(), "33", "Vas");
  },

  "the design opened last is open after a reload, and one can be deleted": async (ctx) => {
    const { page } = await ctx.open();
    await saved(page, "hatchback");
    await newDesign(page);
    await rename(page, "Second");
    await saved(page, "Second");
    await openListed(page, "Demo: hatchback, folded seat");
    await page.waitForTimeout(400);
    await reload(ctx, page);
    ctx.equal(await name(page), "Demo: hatchback, folded seat", "open design after a reload");
    await panel(page, "design");
    const item = page.locator("ul.list li", { hasText: "Second" });
    await item.getByRole("button", { name: "Delete" }).click();
    ctx.check(await item.getByRole("button", { name: "Tap again to delete" }).isVisible(), "deleting asks once");
    await item.getByRole("button", { name: "Tap again to delete" }).click();
    ctx.equal(await item.count(), 0, "deleted");
    ctx.equal(Object.keys(await kept(page, "kc.design.")).length, 1, "designs in storage");
  },

  "a second tab is told and never overwrites": async (ctx) => {
    const { site, profile, page: first } = await ctx.open();
    await saved(first, "hatchback");
    const second = await ctx.page(profile);
    await second.goto(site.url);
    await ctx.running(second);
    await type(first, "Wanted Qtc", "0.75");
    await saved(first, "0.75");
    const told = second.locator(".messages .message", { hasText: "another tab" });
    await told.waitFor();
    await type(second, "Wanted Qtc", "0.66");
    await second.waitForTimeout(500);
    const [text] = Object.values(await kept(second, "kc.design."));
    ctx.check(text.includes("0.75") && !text.includes("0.66"), "the first tab's text stays");
    await told.getByRole("button", { name: "Keep mine as a copy" }).click();
    await saved(second, "0.66");
    const texts = Object.values(await kept(second, "kc.design."));
    ctx.equal(texts.length, 2, "designs in storage");
    ctx.equal(texts.filter((one) => one.includes("0.75")).length, 1, "the first tab's design");
    ctx.equal(await told.count(), 0, "told after the choice");
    ctx.equal(await first.locator(".messages .message").count(), 0, "messages in the first tab");
    // And the other choice.
    const third = await ctx.page(profile);
    await third.goto(site.url);
    await ctx.running(third);
    await type(second, "Wanted Qtc", "0.67");
    await third.locator(".messages .message", { hasText: "another tab" }).getByRole("button", { name: "Show the other tab's" }).click();
    ctx.equal(await field(third, "Wanted Qtc").inputValue(), "0.67", "the other tab's value");
  },

  "two tabs that type at the same time lose neither": async (ctx) => {
    const { site, profile, page: first } = await ctx.open();
    await saved(first, "hatchback");
    const second = await ctx.page(profile);
    await second.goto(site.url);
    await ctx.running(second);
    await Promise.all([type(first, "Wanted Qtc", "0.741"), type(second, "Wanted Qtc", "0.752")]);
    await first.waitForTimeout(700);
    const told = [];
    for (const page of [first, second]) told.push(await page.locator(".messages .message", { hasText: "another tab" }).count());
    ctx.check(told[0] + told[1] >= 1, "one tab at least is told");
    const [text] = Object.values(await kept(first, "kc.design."));
    ctx.check(text.includes("0.741") !== text.includes("0.752"), "one of the two is in storage, whole");
  },

  "storage blocked: a message, and the page goes on calculating": async (ctx) => {
    const { page } = await ctx.open({ init: BLOCKED_STORAGE });
    ctx.check((await message(page).innerText()).includes("blocks storage"), "the message");
    const before = await figure(page, "net");
    await type(page, "Wanted Qtc", "0.8");
    ctx.check((await figure(page, "net")) < before, "figures follow");
    ctx.check((await link(page)).includes("#d=1."), "a link to send");
  },

  "storage full: a message, and the page goes on calculating": async (ctx) => {
    const { page } = await ctx.open({ init: FULL_STORAGE });
    await saved(page, "hatchback");
    await page.evaluate(() => { window.fill = true; });
    const before = await figure(page, "net");
    await type(page, "Wanted Qtc", "0.8");
    ctx.check((await figure(page, "net")) < before, "figures follow");
    await message(page).waitFor();
    ctx.check((await message(page).innerText()).includes("Storage is full"), "the message");
    const [text] = Object.values(await kept(page, "kc.design."));
    ctx.check(text.includes("0.71"), "the earlier text is whole");
    await page.evaluate(() => { window.fill = false; });
    await type(page, "Wanted Qtc", "0.82");
    await saved(page, "0.82");
  },

  "a design that can't be read is kept aside, and another one opens": async (ctx) => {
    const { page } = await ctx.open();
    await saved(page, "hatchback");
    for (const garbage of ["garbage", "{", '{"revision":3,"design":{"format":"kerf-and-coil","version":99}}', "\u0000\uffff", ""]) {
      const id = await page.evaluate((garbage) => {
        const id = localStorage.getItem("kc.open");
        localStorage.setItem(`kc.design.${id}`, garbage);
        return id;
      }, garbage);
      await reload(ctx, page);
      ctx.equal((await kept(page, "kc.broken."))[`kc.broken.${id}`], garbage, "kept aside");
      ctx.check((await figure(page, "net")) > 0, "the page works");
      await type(page, "Wanted Qtc", "0.72");
      await saved(page, "0.72");
      ctx.equal((await kept(page, "kc.broken."))[`kc.broken.${id}`], garbage, "still kept aside after a save");
    }
  },

  "nonsense in every other key does no harm": async (ctx) => {
    const { page } = await ctx.open({
      init: () => {
        for (const key of ["kc.open", "kc.units", "kc.theme", "kc.sound", "kc.starts", "kc.shelf.driver.x", "kc.shelf.x", "kc.design.", "kc."]) {
          localStorage.setItem(key, "\u0000]}nonsense");
        }
      },
    });
    ctx.check((await figure(page, "net")) > 0, "the page works");
    await panel(page, "design");
    ctx.check(await page.getByRole("button", { name: "New design" }).isVisible(), "the list opens");
  },

  "after two failed starts the list opens and nothing is evaluated": async (ctx) => {
    const { page } = await ctx.open();
    await rename(page, "Suspect");
    await saved(page, "Suspect");
    const before = await kept(page, "kc.design.");
    await page.evaluate(() => localStorage.setItem("kc.starts", "2"));
    await reload(ctx, page);
    ctx.check((await message(page).innerText()).includes("failed to start twice"), "the message");
    ctx.check(await page.getByRole("button", { name: "Suspect", exact: true }).isVisible(), "the design is in the list");
    ctx.equal(await page.locator("[data-figure]").count(), 0, "figures");
    await page.waitForTimeout(400);
    ctx.equal(await kept(page, "kc.design."), before, "designs in storage, untouched");
    ctx.equal(await ctx.axe(page), [], "axe");
    await page.getByRole("button", { name: "Suspect", exact: true }).click();
    ctx.check((await figure(page, "net")) > 0, "the opened design is evaluated");
    ctx.equal(await name(page), "Suspect", "name");
  },

  "a text typed with every unit changed comes back from a reload as it was": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "unit");
    await page.getByLabel("inches, 1/16").check();
    await page.getByLabel("cubic feet").check();
    await go(page, "Saw");
    await type(page, "Free width", "28 3/8");
    await unfold(page);
    await choose(page, "Cut to the nearest", "1/16 in");
    const folds = page.locator('.foldkey[aria-expanded="true"]');
    while (await folds.count()) await folds.first().click();
    const before = await shown(page, "Saw");
    await saved(page, "1/16 in");
    await reload(ctx, page);
    ctx.equal(await shown(page, "Saw"), before, "the saw");
    ctx.equal(await field(page, "Free width").inputValue(), "28 3/8", "free width");
  },
};
