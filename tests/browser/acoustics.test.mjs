// Every kind of enclosure on the desk, what gives first, filters, cabin, comparison, and charts saved as pictures.
import { choose, field, figure, go, number, panel, saved, type } from "./page.mjs";

const chart = (page, key) => page.locator(`[data-chart="${key}"]`);
const reading = (page, key) => chart(page, key).locator(".reading").innerText();
const open = (page, title) => page.locator(".foldkey", { hasText: title }).first().click();

export default {
  "every kind of enclosure gives curves, boards and both ledgers": async (ctx) => {
    const { page } = await ctx.open();
    for (const [kind, key, chartKey, pieces, nets] of [
      ["infinite baffle", "qts", "cone", "2 × front", 0],
      ["band-pass, rear closed", "qtc", "air", "1 × divider", 2],
      ["band-pass, both vented outward", "fb", "air", "1 × divider", 2],
      ["band-pass, rear vented into front", "fb", "air", "1 × divider", 2],
      ["push-pull pair, closed", "qtc", "cone", "2 × front", 1],
    ]) {
      if (kind.startsWith("push-pull")) await choose(page, "Drivers in the box", "2");
      await choose(page, "Type", kind);
      await page.locator(`[data-figure="${key}"]`).waitFor();
      ctx.check(await chart(page, chartKey).count() === 1, `${kind} has the chart ${chartKey}`);
      ctx.equal(await page.locator("svg.drawing").count(), 1, `${kind} is drawn`);
      await go(page, "Saw");
      const parts = await page.locator("table.parts").innerText();
      ctx.check(parts.includes(pieces), `${kind}: ${parts}`);
      ctx.equal(await page.locator("table.ledger tr.sum").count(), nets, `${kind}: net volumes`);
      await go(page, "Desk");
    }
    await choose(page, "Type", "passive radiator");
    for (const [label, value] of [
      ["Radiator area, each", "250"], ["Radiator moving mass, each", "300"], ["Radiator resonance", "16"],
    ]) await type(page, label, value);
    await chart(page, "radiator").waitFor();
    await go(page, "Saw");
    ctx.check((await page.locator("#picture").innerText()).includes("Radiator cut-out diameter"), "the saw asks for the cut-out");
    await go(page, "Desk");
    await open(page, "Radiator mounting sizes");
    for (const [label, value] of [
      ["Radiator cut-out diameter", "185"], ["Radiator outside diameter", "210"], ["Radiator depth, with its travel", "80"],
    ]) await type(page, label, value);
    await go(page, "Saw");
    await page.locator("table.ledger").waitFor();
    ctx.check((await page.locator("table.ledger").innerText()).includes("radiator"), "the ledger counts the radiator's hole");
    ctx.check((await page.locator("#details").innerText()).includes("radiator"), "the hole is in the list to rout");
  },

  "each port of a band-pass has its own ends, and its tuning follows": async (ctx) => {
    const { page } = await ctx.open();
    await choose(page, "Type", "band-pass, both vented outward");
    await type(page, "Port before the cones, length", "150");
    await open(page, "Losses");
    ctx.equal(await field(page, "Flare radius before the cones").count(), 0, "no radius without a flare");
    const before = await chart(page, "level").locator(".reading").innerText();
    await choose(page, "Ends of the port before the cones", "tube flared at both ends");
    await field(page, "Flare radius before the cones").waitFor();
    await page.waitForFunction((old) => document.querySelector('[data-chart="level"] .reading').innerText !== old, before);
    await choose(page, "Type", "vented");
    ctx.equal(await field(page, "Ends of the port before the cones").count(), 0, "one port has one set of ends");
  },

  "what gives first is a sentence, a chart and its stretches": async (ctx) => {
    const { page } = await ctx.open();
    // The first picture does without it.
    await page.locator(".first", { hasText: /first/ }).waitFor();
    await open(page, "What gives first");
    await chart(page, "ceiling").waitFor();
    ctx.check(/dB/.test(await reading(page, "ceiling")), "the cursor reads the ceiling");
    const stretches = await page.locator(".fold", { has: chart(page, "ceiling") }).locator("dt").allInnerTexts();
    ctx.check(stretches.includes("amplifier voltage"), stretches.join());
    await open(page, "Impedance, delay");
    await chart(page, "step").waitFor();
    ctx.check(/ms: pressure/.test(await reading(page, "step")), await reading(page, "step"));
  },

  "folds of the curves stay open while an entry makes the sound impossible": async (ctx) => {
    const { page } = await ctx.open();
    await open(page, "What gives first");
    await chart(page, "ceiling").waitFor();
    // On the way from 33.4 to 35.4 L somebody types a 3, which is no driver together with the other data.
    await type(page, "Compliance volume, Vas", "3");
    await page.locator("#curves > .sheet").waitFor({ state: "hidden" });
    ctx.equal(await chart(page, "level").count(), 0, "curves without a driver");
    await type(page, "Compliance volume, Vas", "35.4");
    await chart(page, "ceiling").waitFor();
    ctx.check(/dB/.test(await reading(page, "ceiling")), "the ceiling is back in its open fold");
  },

  "a high-pass takes travel away, and the cabin lifts the level": async (ctx) => {
    const { page } = await ctx.open();
    const before = await figure(page, "travel");
    await open(page, "Filters");
    ctx.equal(await field(page, "Slope of the high-pass").count(), 0, "no slope before there is a corner");
    await type(page, "High-pass set to", "45");
    await field(page, "High-pass set to").blur();
    await page.waitForFunction((before) => {
      const now = parseFloat(document.querySelector('[data-figure="travel"] dd').innerText);
      return now < 0.8 * before;
    }, before);
    const steep = await figure(page, "travel");
    await choose(page, "Slope of the high-pass", "12 dB, Butterworth");
    await page.waitForFunction((steep) => document.querySelector('[data-figure="travel"] dd').innerText !== steep, steep);
    await go(page, "Car");
    await page.locator("#powerup").getByRole("button", { name: "Open the steps" }).click();
    await open(page, "Settings and fuse");
    ctx.equal(await field(page, "High-pass set to").inputValue(), "45", "first power has the same entry");
    await go(page, "Desk");
    await open(page, "In the cabin");
    await type(page, "Cabin length", "2.4");
    await page.waitForFunction(() => /in the cabin/.test(document.querySelector('[data-chart="level"] .reading').innerText));
    const read = await reading(page, "level");
    const [level, cabin] = [/level (-?[\d.]+)/.exec(read), /in the cabin (-?[\d.]+)/.exec(read)].map((found) => Number(found?.[1]));
    ctx.check(cabin > level, read);
  },

  "each chart is saved as SVG, PNG and CSV": async (ctx) => {
    const { page } = await ctx.open();
    await open(page, "Save the charts");
    const row = page.locator(".saves").first();
    for (const [kind, start] of [["SVG", "<svg"], ["PNG", "\u0089PNG"], ["CSV", "frequency Hz"]]) {
      const [file] = await Promise.all([page.waitForEvent("download"), row.getByRole("button", { name: `Save as ${kind}` }).click()]);
      ctx.equal(file.suggestedFilename(), `kerf-and-coil-level.${kind.toLowerCase()}`, "its name");
      const chunks = [];
      for await (const chunk of await file.createReadStream()) chunks.push(chunk);
      const bytes = Buffer.concat(chunks);
      ctx.check(bytes.toString("latin1").startsWith(start), `${kind} begins with ${bytes.toString("latin1").slice(0, 20)}`);
      ctx.check(bytes.length > 1500, `${kind} has ${bytes.length} bytes`);
      if (kind !== "SVG") continue;
      const shapes = await page.evaluate((text) => {
        const root = new DOMParser().parseFromString(text, "image/svg+xml");
        return [root.querySelectorAll("parsererror").length, root.querySelectorAll("text").length,
          Math.max(...[...root.querySelectorAll("path")].map((path) => path.getAttribute("d").length))];
      }, bytes.toString("utf8"));
      ctx.equal(shapes[0], 0, "parse errors");
      ctx.check(shapes[1] > 8 && shapes[2] > 1000, `ticks and curve: ${shapes}`);
    }
  },

  "another design lies beside this one, with the difference": async (ctx) => {
    const { page } = await ctx.open();
    await type(page, "Wanted net volume", "40");
    await saved(page, "40 L");
    await panel(page, "design");
    await page.getByRole("button", { name: "Copy this design" }).click();
    await go(page, "Desk");
    await type(page, "Wanted net volume", "20");
    await saved(page, "20 L");
    await open(page, "Compare with other designs");
    const keys = page.locator(".fold", { hasText: "Compare with" }).locator(".folded .key");
    await keys.first().click();
    await chart(page, "difference").waitFor();
    ctx.equal(await keys.first().getAttribute("aria-pressed"), "true", "pressed");
    ctx.check((await reading(page, "level")).split("level").length === 3, await reading(page, "level"));
    const apart = number((await reading(page, "difference")).split("dB")[0].split(/\s/).slice(-2)[0]);
    ctx.check(Math.abs(apart) > 0.05 && Math.abs(apart) < 20, await reading(page, "difference"));
  },
};
