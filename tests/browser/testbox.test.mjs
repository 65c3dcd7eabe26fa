// The flipping test box, and whether a box passes the door.
import { choose, go, type } from "./page.mjs";

const unfold = async (page, name) => {
  const key = page.getByRole("button", { name });
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
};

export default {
  "a test box gets legs, its drawing and cut list show them": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Test box/);
    await choose(page, "Sides reach down as legs", "yes, a test box");
    await page.locator("#testbox").waitFor();
    const before = await page.locator("#testbox").innerText();
    ctx.check(/Leg height/.test(before) && /Windows and open ends/.test(before), before);
    await type(page, "Leg height", "30");
    await page.locator("#testbox", { hasText: "asks for legs of" }).waitFor();
    await type(page, "Leg height", "120");
    await type(page, "Stands in for a box of", "20");
    await page.locator("#testbox .pairs", { hasText: "Blocks to put in" }).waitFor();
    await type(page, "Smaller driver, cut-out", "180");
    await type(page, "Smaller driver, outside diameter", "210");
    await page.locator("#testbox .pairs", { hasText: "adapter ring" }).waitFor();
    await page.locator("#templates .foldkey").first().click();
    await page.locator("#templates").getByRole("button", { name: "SVG: adapter ring, outside and hole" }).waitFor();
  },

  "the door is checked where the space is entered": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await type(page, "Door or hatch, free width", "1000");
    await type(page, "Door or hatch, free height", "700");
    await page.locator("#space .door", { hasText: "It passes the door" }).waitFor();
    await type(page, "Door or hatch, free height", "150");
    await page.locator("#space .door .note", { hasText: "does not pass" }).waitFor();
  },
};
