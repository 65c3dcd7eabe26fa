// Boxes whose sides are no rectangles: choice, sizes, drawing, cut list, fence order, templates.
import { choose, go, type } from "./page.mjs";

const unfold = async (page, name) => {
  const key = page.getByRole("button", { name });
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
};

export default {
  "a wedge gets bevels, long points and a template of its side": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Shape/);
    await choose(page, "Shape of the sides", "back leans forward (wedge)");
    // A depth at the top is missing: the page says so and keeps the last box.
    await page.locator("#picture .gap").first().waitFor();
    await type(page, "Depth along the top", "220");
    await page.locator("#parts", { hasText: "bevelled" }).waitFor();
    const parts = await page.locator("#parts").innerText();
    ctx.check(/long point on the outside face/.test(parts) && /turn it over/.test(parts), parts);
    ctx.check(/edge to the template/.test(parts), parts);
    const fence = await page.locator("#fence").innerText();
    ctx.check(/Blade leaning away from the fence/.test(fence) && /rear end, inside face down/.test(fence), fence);
    ctx.check((await page.locator("#picture svg.drawing polygon.wood").count()) > 4, "boards drawn as their sections");
    const details = await page.locator("main").innerText();
    ctx.check(/left side: edge|left: edge|side: edge/.test(details) && /corners, depth \/ height/.test(details), "corners to mark out");
    await page.locator("#templates .foldkey").first().click();
    await page.locator("#templates").getByRole("button", { name: "SVG: 2 × side" }).waitFor();
  },

  "a step and a leaning front are drawn and refuse what they cannot have": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Shape/);
    await choose(page, "Shape of the sides", "step: less deep at the top");
    await type(page, "Step, height above the underside", "150");
    await type(page, "Depth of the part less deep", "230");
    await page.locator("#parts", { hasText: "step riser" }).waitFor();
    await type(page, "Depth of the part less deep", "2000");
    await page.locator("#picture .gap").first().waitFor();
    await choose(page, "Shape of the sides", "front leans back");
    await type(page, "Front's upper edge stands back by", "80");
    await page.locator("#parts", { hasText: "upper end bevelled" }).waitFor();
  },

  "a box is checked against a space whose limit leans": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await type(page, "Free depth at the top, if less", "220");
    await unfold(page, /^Fix outside sizes/);
    await type(page, "Outside depth", "330");
    await page.locator("main", { hasText: "into the slanted limit of the space" }).waitFor();
  },
};
