// Reading and reaching: accessibility, keyboard, sizes, themes, units, and what bad input does.
import { choose, closePanel, field, figures, go, line, near, number, panel, saved, type, unfold } from "./page.mjs";

const PLACES = ["Desk", "Saw", "Car"];
const PANELS = ["design", "sheet", "unit"];

/** Shows each place with its folds open, and each panel; calls `look` with the name of what is shown. */
async function everySheet(page, look) {
  for (const place of PLACES) {
    await go(page, place);
    await unfold(page);
    if (place === "Car") {
      await page.locator("#quick").getByRole("button", { name: "Voltage drop" }).click();
      await page.locator("#reading").fill("0.9");
    }
    await look(place);
  }
  for (const which of PANELS) {
    await panel(page, which);
    await look(`panel ${which}`);
    await closePanel(page);
  }
}

/** Sheets on a device in both themes without an axe violation. */
const axeOn = (device) => async (ctx) => {
  for (const colorScheme of ["light", "dark"]) {
    const { page } = await ctx.open({ device: { ...ctx[device], colorScheme } });
    await everySheet(page, async (sheet) => ctx.equal(await ctx.axe(page), [], `axe, ${colorScheme}, ${sheet}`));
    await page.close();
  }
};

/** Texts that no field takes. */
const BAD = ["abc", "1e9", "1.234,5", "nan", "NaN", "Infinity", "1/0", "--5", "99999999999999999999", "<b>1</b>"];
/** Texts that a field may take or refuse, but never stumble over. */
const ODD = ["", "0", "-5", "0,0001", "1e-9", "5000"];

export default {
  "a tap just below a field that is being edited hits what it was aimed at": async (ctx) => {
    const { page } = await ctx.open();
    await field(page, "Inductance, Le").tap();
    await page.locator(".hint").waitFor();
    const below = page.locator("#driver .foldkey").first();
    const { x, y, width, height } = await below.boundingBox();
    await page.touchscreen.tap(x + width / 2, y + height - 4);
    await page.waitForFunction(() => document.querySelector("#driver .foldkey").getAttribute("aria-expanded") === "true");
    await page.locator(".hint").waitFor({ state: "detached" });
  },

  "no accessibility violation on a phone, folds open, both themes": axeOn("PHONE"),
  "no accessibility violation on a laptop, folds open, both themes": axeOn("LAPTOP"),

  "the user's own theme beats the system's and lasts": async (ctx) => {
    const { page } = await ctx.open({ device: { ...ctx.PHONE, colorScheme: "light" } });
    const paper = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    const day = await paper();
    await panel(page, "unit");
    await page.getByLabel("night").check();
    const night = await paper();
    ctx.check(day !== night, `night is ${night}`);
    await page.waitForFunction(() => localStorage.getItem("kc.theme") === "dark");
    await page.reload();
    await ctx.running(page);
    ctx.equal(await paper(), night, "after a reload");
  },

  "the cursor moves by arrow keys and speaks every curve": async (ctx) => {
    const { page } = await ctx.open();
    const cursor = page.getByRole("slider", { name: /Read the curves/ });
    await cursor.focus();
    const spoken = [];
    for (let i = 0; i < 4; i += 1) {
      spoken.push(await cursor.getAttribute("aria-valuetext"));
      await page.keyboard.press("ArrowRight");
    }
    ctx.equal(new Set(spoken).size, 4, `spoken: ${spoken}`);
    for (const curve of ["level", "cone travel", "impedance", "impedance phase", "group delay"]) {
      ctx.check(spoken[0].includes(curve), `${curve} is spoken: ${spoken[0]}`);
    }
    ctx.check(!/NaN|–/.test(spoken.join()), `numbers are spoken: ${spoken}`);
    await page.keyboard.press("End");
    ctx.check((await cursor.getAttribute("aria-valuetext")).startsWith("500 Hz"), "the last frequency");
    await page.keyboard.press("Home");
    ctx.check((await cursor.getAttribute("aria-valuetext")).startsWith("10.0 Hz"), "the first frequency");
    // What is spoken is what the table holds.
    await unfold(page);
    const first = await page.locator(".scroll table tbody tr").first().locator("th,td").allInnerTexts();
    const values = (await cursor.getAttribute("aria-valuetext")).replaceAll("−", "-");
    for (const value of first) ctx.check(values.includes(value.replaceAll("−", "-")), `the table's ${value} in "${values}"`);
  },

  "charts are for the eye, the table and its download for the rest": async (ctx) => {
    const { page } = await ctx.open();
    await unfold(page);
    const hidden = await page.locator("canvas").evaluateAll((all) => all.map((one) => one.getAttribute("aria-hidden")));
    ctx.check(hidden.length >= 4 && hidden.every((one) => one === "true"), `canvases: ${hidden}`);
    const painted = await page.locator("canvas").evaluateAll((all) => all.map((one) => {
      const { data } = one.getContext("2d").getImageData(0, 0, one.width, one.height);
      const colours = new Set();
      for (let i = 0; i < data.length; i += 4) colours.add(`${data[i]},${data[i + 1]},${data[i + 2]},${data[i + 3]}`);
      return colours.size;
    }));
    ctx.check(painted.every((colours) => colours > 3), `colours on the charts: ${painted}`);
    const table = page.locator(".scroll table").first();
    ctx.check((await table.locator("tbody tr").count()) >= 20, "rows");
    ctx.equal(await table.locator("thead th").count(), await table.locator("tbody tr").first().locator("th,td").count(), "columns");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save the table (CSV)" }).click(),
    ]);
    const stream = await download.createReadStream();
    let text = "";
    for await (const part of stream) text += part;
    const rows = text.trim().split(/\r?\n/);
    ctx.equal(rows.length, 241, "a head and 240 frequencies");
    ctx.check(rows.slice(1).every((row) => row.split(",").every((cell) => Number.isFinite(Number(cell)))), "numbers in every cell");
  },

  "everything that Tab reaches has a name, and Tab reaches everything": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      const { page } = await ctx.open({ device });
      await everySheet(page, async (sheet) => {
        const nameless = await page.evaluate(() => {
          const all = document.querySelectorAll("a[href], button, input, select, textarea, [tabindex], [role=button]");
          const name = (one) => one.getAttribute("aria-label") || [...(one.labels ?? [])].map((label) => label.innerText).join("") ||
            one.innerText || "";
          return [...all].filter((one) => !name(one).trim()).map((one) => one.outerHTML);
        });
        ctx.equal(nameless, [], `nameless on ${sheet}`);
      });
      await go(page, "Car");
      await page.evaluate(() => document.activeElement?.blur());
      const reachable = await page.evaluate(() =>
        [...document.querySelectorAll("a[href], button:not(:disabled), input, select, textarea, [tabindex='0']")]
          .filter((one) => one.getClientRects().length && !(one.type === "radio" && !one.checked)).length);
      const seen = new Set();
      for (let i = 0; i < reachable + 5; i += 1) {
        await page.keyboard.press("Tab");
        const id = await page.evaluate(() => {
          const one = document.activeElement;
          if (!one || one === document.body) return "";
          one.dataset.seen ??= String(document.querySelectorAll("[data-seen]").length);
          return one.dataset.seen;
        });
        if (id) seen.add(id);
      }
      ctx.check(seen.size >= reachable, `Tab reached ${seen.size} of ${reachable}`);
    }
  },

  "a dimension on the drawing is changed by keyboard and by tap": async (ctx) => {
    const { page } = await ctx.open();
    const width = page.locator(".drawing").getByRole("button", { name: /^Outside width/ });
    await width.focus();
    await page.keyboard.press("Enter");
    const input = page.locator(".drawing input");
    await input.waitFor();
    await page.keyboard.type("600");
    await page.keyboard.press("Enter");
    ctx.check((await page.locator(".drawing").getByRole("button", { name: /^Outside width: 600/ }).count()) === 1, "the drawing shows 600");
    await page.locator(".drawing").getByRole("button", { name: /^Outside width/ }).tap();
    await input.waitFor();
    await page.keyboard.type("640");
    await page.keyboard.press("Escape");
    ctx.check((await page.locator(".drawing").getByRole("button", { name: /^Outside width: 640/ }).count()) === 1, "the drawing shows 640");
  },

  "touch targets are 44 px": async (ctx) => {
    const { page } = await ctx.open();
    await everySheet(page, async (sheet) => {
      const small = await page.evaluate(() => {
        // A tick, a choice and an option are touched on their label; the drawing's dimensions are 44 × 32 by design
        // (they are fields below as well); the skip link shows only under keyboards; the link to copy scrolls.
        const target = (one) => (one.matches("input[type=checkbox], input[type=radio]") ? one.closest("label") : one);
        return [...document.querySelectorAll("button, input, select, textarea")]
          .map(target)
          .filter((one) => one.getClientRects().length && !one.closest(".drawing"))
          .map((one) => [one, one.getBoundingClientRect()])
          .filter(([, box]) => box.height < 43.9 || box.width < 43.9)
          .map(([one, box]) => `${one.tagName} "${(one.innerText || one.ariaLabel || one.id).slice(0, 30)}" ${box.width.toFixed(0)} × ${box.height.toFixed(0)}`);
      });
      ctx.equal(small, [], `small on ${sheet}`);
    });
  },

  "no text under 12 px, on drawings neither": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      const { page } = await ctx.open({ device });
      await everySheet(page, async (sheet) => {
        const small = await page.evaluate(() => {
          const found = new Set();
          const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          while (walk.nextNode()) {
            const one = walk.currentNode.parentElement;
            if (!walk.currentNode.data.trim() || !one.getClientRects().length) continue;
            const svg = one.closest("svg");
            const scale = svg?.getScreenCTM ? svg.getScreenCTM().a : 1;
            const size = Number.parseFloat(getComputedStyle(one).fontSize) * scale;
            if (size < 11.95) found.add(`${size.toFixed(1)} px: ${walk.currentNode.data.trim().slice(0, 30)}`);
          }
          return [...found];
        });
        ctx.equal(small, [], `small text on ${sheet}, ${device.viewport.width} px`);
      });
    }
  },

  "nothing makes the page scroll sideways": async (ctx) => {
    for (const [width, height] of [[320, 640], [390, 844], [844, 390], [1366, 768]]) {
      const { page } = await ctx.open({ device: { viewport: { width, height } } });
      await everySheet(page, async (sheet) => {
        const { wide, over } = await page.evaluate(() => ({
          wide: document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth,
          over: [...document.querySelectorAll("main *")]
            .filter((one) => one.getBoundingClientRect().right > innerWidth + 1 && !one.closest(".scroll, .wiring, pre"))
            .slice(0, 5).map((one) => one.outerHTML.slice(0, 90)),
        }));
        ctx.equal({ wide, over }, { wide: 0, over: [] }, `${sheet} at ${width} px`);
      });
      await page.close();
    }
  },

  "each unit is chosen by itself and changes what is shown": async (ctx) => {
    const { page } = await ctx.open();
    const litres = number((await figures(page)).net);
    await panel(page, "unit");
    await page.getByLabel("cubic feet").check();
    await go(page, "Desk");
    // 1 ft³ = 28.316846592 L (exact, the international foot is 0.3048 m).
    near(ctx, number((await figures(page)).net), litres / 28.316846592, 0.002, "net in cubic feet");
    ctx.check((await line(page)).includes("ft³"), "the line");
    await go(page, "Saw");
    ctx.equal(await field(page, "Free width").inputValue(), "720", "millimetres stay");
    await panel(page, "unit");
    await page.getByLabel("inches, 1/16").check();
    await go(page, "Saw");
    // 720 mm is 28.346 in; the nearest sixteenth is 28 6/16.
    ctx.equal(await field(page, "Free width").inputValue(), "28 3/8", "720 mm in inches");
    await type(page, "Free width", "13 3/8");
    ctx.equal(await field(page, "Free width").getAttribute("aria-invalid"), null, "a fraction is taken");
    await page.keyboard.press("Tab");
    ctx.equal(await field(page, "Free width").inputValue(), "13 3/8", "shown as typed");
    await panel(page, "unit");
    await page.getByLabel("mm", { exact: true }).check();
    await go(page, "Saw");
    // 13.375 × 25.4 = 339.725 mm, exactly.
    near(ctx, number(await field(page, "Free width").inputValue()), 339.725, 0.05, "13 3/8 in in millimetres");
    await panel(page, "unit");
    await page.getByLabel("AWG").check();
    await page.getByLabel("°F").check();
    await page.getByLabel("feet", { exact: true }).check();
    await go(page, "Car");
    ctx.check((await page.locator("#feed .figs").innerText()).includes("AWG"), "cables by gauge");
    // 4.6 m is 15.09 ft.
    near(ctx, number(await field(page, "Cable run, one way").inputValue()), 4.6 / 0.3048, 0.06, "run in feet");
    await type(page, "Warmest place on the run", "122");
    await saved(page, "122 °F");
    await panel(page, "unit");
    await page.getByLabel("°C").check();
    await go(page, "Car");
    ctx.equal(number(await field(page, "Warmest place on the run").inputValue()), 50, "122 °F in °C");
  },

  "bad input in every number field: told at the field, kept as typed, and never NaN": async (ctx) => {
    const { page } = await ctx.open();
    for (const place of PLACES) {
      await go(page, place);
      if (place === "Desk") await choose(page, "Type", "vented");
      await unfold(page);
      const ids = await page.locator(".row:not(.text) input[id^=f]").evaluateAll((all) => [...new Set(all.map((one) => one.id))]);
      ctx.check(ids.length >= 8, `${ids.length} fields on ${place}`);
      for (const id of ids) {
        // Typed by events inside the page, as a hand would take an hour for all of them.
        const wrong = await page.evaluate(async ({ id, bad, odd }) => {
          const input = document.getElementById(id);
          const put = async (text) => {
            input.value = text;
            input.dispatchEvent(new InputEvent("input", { bubbles: true }));
            await new Promise((done) => setTimeout(done, 0));
          };
          const wrong = [];
          const before = input.value;
          input.focus();
          for (const text of [...bad, ...odd]) {
            await put(text);
            const now = document.getElementById(id);
            if (now !== input) wrong.push(`"${text}": the field is gone`);
            else if (input.value !== text) wrong.push(`"${text}" became "${input.value}"`);
            const told = document.getElementById(input.getAttribute("aria-describedby"))?.getAttribute("role") === "alert";
            if (told !== (input.getAttribute("aria-invalid") === "true")) wrong.push(`"${text}": mark and message disagree`);
            if (bad.includes(text) && !told) wrong.push(`"${text}" is taken`);
            const silly = /.*(NaN|\binf\b|Infinity|undefined).*/.exec(document.querySelector(".page").innerText);
            if (silly) wrong.push(`"${text}": the page shows "${silly[0]}"`);
          }
          await put(before);
          input.blur();
          return wrong;
        }, { id, bad: BAD, odd: ODD });
        ctx.equal(wrong, [], `${place}, ${id}`);
      }
    }
  },

  "an unfinished text leaves the last value that fits in force": async (ctx) => {
    const { page } = await ctx.open();
    const before = await figures(page);
    await type(page, "Resonance, fs", "");
    await field(page, "Resonance, fs").fill("29.0");
    for (const text of ["2x", "nan", "1e99", "5000"]) {
      await field(page, "Resonance, fs").fill(text);
      ctx.equal(await figures(page), before, `figures while the field holds "${text}"`);
      const hint = await page.locator(".hint.bad").innerText();
      ctx.check(/last value that fits/.test(hint), hint);
    }
    await field(page, "Resonance, fs").fill("5000");
    const range = await page.locator(".hint.bad").innerText();
    ctx.check(range.includes("5.0") && range.includes("200"), `the range is named: ${range}`);
  },

  "contents jump to the sheet they name": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "sheet");
    const jumps = await page.locator("main .jump").allInnerTexts();
    ctx.check(jumps.length >= 12, `${jumps.length} jumps`);
    await page.locator("main .jump", { hasText: "Fence order" }).click();
    await page.locator("#fence").waitFor();
    await page.waitForFunction(() => {
      const top = document.getElementById("fence").getBoundingClientRect().top;
      return top >= 0 && top < innerHeight / 2;
    });
  },
};
