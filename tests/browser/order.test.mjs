// Putting the box together: steps with drawings, made only when the fold is opened.
import { choose, go, type } from "./page.mjs";

export default {
  "the build order is drawn step by step once it is opened": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    ctx.check((await page.locator("#order svg").count()) === 0, "nothing is drawn before");
    await page.locator("#order .foldkey").click();
    await page.locator("#order svg").first().waitFor();
    const drawings = await page.locator("#order .gluestep svg").count();
    const ticks = await page.locator("#order .gluestep input[type=checkbox]").count();
    ctx.check(drawings > 5 && drawings === ticks, `${drawings} drawings, ${ticks} ticks`);
    const fresh = page.locator("#order .gluestep svg .fresh");
    for (let at = 0; at < drawings; at += 1) {
      const path = await fresh.nth(at).getAttribute("d");
      ctx.check(path.startsWith("M") && !path.includes("NaN"), `step ${at + 1} shows what is new`);
    }
    const box = await page.locator("#order .gluestep svg").first().boundingBox();
    ctx.check(box.width <= (await page.evaluate(() => innerWidth)), "a drawing fits the screen");
    await page.locator("#order .gluestep input[type=checkbox]").first().check();
    ctx.check((await page.locator("#order .gluestep svg").count()) === drawings, "the drawings stay");
  },

  "a wedge is put together step by step, its sides last": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const shape = page.getByRole("button", { name: /^Shape/ });
    if ((await shape.getAttribute("aria-expanded")) !== "true") await shape.click();
    await choose(page, "Shape of the sides", "back leans forward (wedge)");
    await type(page, "Depth along the top", "220");
    await page.locator("#order .foldkey").click();
    await page.locator("#order svg").first().waitFor();
    const steps = await page.locator("#order .gluestep").allInnerTexts();
    ctx.check(steps.length > 5 && steps.every((text) => !text.includes("No straight way")), steps.join("\n"));
    ctx.check(/left/.test(steps.at(-2)) && /right/.test(steps.at(-1)), steps.slice(-2).join("\n"));
    for (const path of await page.locator("#order svg .fresh").evaluateAll((all) => all.slice(1).map((one) => one.getAttribute("d")))) {
      ctx.check(path.startsWith("M") && !path.includes("NaN"), "each step shows what is new");
    }
    const wide = await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth);
    ctx.check(wide, "nothing is wider than the screen");
  },

  "on paper what is open keeps its title, what is closed is left out": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await page.locator("#order .foldkey").click();
    await page.locator("#order svg").first().waitFor();
    await page.emulateMedia({ media: "print" });
    ctx.check(await page.locator("#order .foldkey").isVisible(), "the open fold's title");
    ctx.check(!(await page.locator("#layout .foldkey").isVisible()), "a closed fold is no blank frame");
    ctx.check(!(await page.locator("#order .turn").isVisible()), "no sign to press");
    const [first, second] = await page.locator("#order .gluestep").evaluateAll((all) =>
      all.slice(0, 2).map((one) => one.getBoundingClientRect()));
    ctx.check(first.top === second.top && first.right <= second.left + 0.5, "two steps stand side by side");
    ctx.check(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "nothing is cut off");
  },

  "one key opens every part for paper, which says whose it is": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    ctx.check(!(await page.locator(".printed").isVisible()), "the head is for paper");
    await page.getByRole("button", { name: "Open every part" }).click();
    await page.waitForFunction(() => !document.querySelector('.work .foldkey[aria-expanded="false"]'));
    await page.locator("#order svg").first().waitFor();
    await page.emulateMedia({ media: "print" });
    const head = await page.locator(".printed").innerText();
    const today = await page.evaluate(() => String(new Date().getFullYear()));
    ctx.check(head.includes("hatchback") && head.includes(today), head);
    ctx.check(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "nothing is cut off");
  },

  "below the build order the clearances add up once they are opened": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await page.locator("#clearance .foldkey").click();
    const sheet = page.locator("#clearance");
    await sheet.locator(".pairs", { hasText: "Box with everything on it" }).waitFor();
    await type(page, "Front to outside of the grille", "25");
    await type(page, "Mechanical travel one way", "60");
    await sheet.locator(".note", { hasText: "runs into the grille" }).waitFor();
    await type(page, "Mechanical travel one way", "10");
    await page.waitForFunction(() => !document.querySelector("#clearance").innerText.includes("runs into the grille"));
    await sheet.locator("input[type=checkbox]").first().check();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth);
    ctx.check(wide, "nothing is wider than the screen");
  },

  "the box is cut level once that fold is opened, with wood and air in turn": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const fold = page.locator("#picture").getByRole("button", { name: /^Cut level/ });
    ctx.equal(await page.locator("#picture svg").count(), 1, "drawings before");
    await fold.click();
    const cut = page.getByRole("img", { name: /cut level/ });
    await cut.waitFor();
    // The demo is 710 mm wide outside, of 18.1 mm board: 710 − 36.2.
    await page.locator("#picture", { hasText: "18.1 · (673.8) · 18.1" }).waitFor();
    for (const path of await cut.locator("path").evaluateAll((all) => all.map((one) => one.getAttribute("d")))) {
      ctx.check(path.startsWith("M") && !path.includes("NaN"), path.slice(0, 60));
    }
    const shape = page.getByRole("button", { name: /^Shape/ });
    if ((await shape.getAttribute("aria-expanded")) !== "true") await shape.click();
    await choose(page, "Shape of the sides", "back leans forward (wedge)");
    await type(page, "Depth along the top", "220");
    await page.waitForFunction(() => document.querySelector("#picture").innerText.includes("Cut level"));
    ctx.check(!(await page.locator("#picture").innerText()).includes("NaN"), "no NaN");
  },
};
