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

  "edges are chosen one by one, and a corner left open is told where it was chosen": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Joints/);
    await choose(page, "Left side and top", "the left side");
    // The two sides differ now, and the list says what runs past what.
    await page.locator("#parts", { hasText: "the left side runs past the top" }).waitFor();
    const sides = await page.locator("#parts tr", { hasText: "1 × side" }).count();
    ctx.equal(sides, 2, "lines of sides");
    await choose(page, "Front and left side", "the left side");
    await page.locator("#build .hint", { hasText: "front left bottom corner" }).waitFor();
    await choose(page, "Front and left side", "by the order");
    await page.locator("#parts", { hasText: "the left side runs past the top" }).waitFor();
  },

  "strips along leaning boards have bevels of their own and oblique ends": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await choose(page, "Corner strips, 45°", "all twelve edges");
    await unfold(page, /^Shape/);
    await choose(page, "Shape of the sides", "back leans forward (wedge)");
    await type(page, "Depth along the top", "260");
    const parts = page.locator("#parts", { hasText: "mitre gauge" });
    await parts.waitFor();
    const text = await parts.innerText();
    ctx.check(/up the back/.test(text) && /across, back and bottom/.test(text), text);
    await page.locator("#fence", { hasText: "leans to 45° only" }).waitFor();
  },

  "corner strips stand in the edges ticked, and what gets none is named": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await choose(page, "Corner strips, 45°", "edges of your own");
    const main = page.locator("main");
    await main.getByText(/no edge is ticked/).first().waitFor();
    const ticks = page.getByRole("group", { name: "A strip in these inside edges" });
    ctx.equal(await ticks.getByRole("checkbox").count(), 12, "edges to tick");
    await ticks.getByLabel("Front and left side").check();
    await ticks.getByLabel("Back and bottom").check();
    await page.locator("#parts tr", { hasText: "corner strip" }).nth(1).waitFor();
    ctx.check(!/no edge is ticked/.test(await main.innerText()), "told no longer");
    // The two are of different lengths, and neither meets the other: one line each, no mitre.
    ctx.check(!/mitred/.test(await page.locator("#parts").innerText()), "square ends");
    await unfold(page, /^Shape/);
    await choose(page, "Shape of the sides", "step: less deep at the top");
    await type(page, "Step, height above the underside", "150");
    await type(page, "Depth of the part less deep", "240");
    await ticks.getByLabel("Back and right side").check();
    await ticks.getByText(/No strip there.*Back and right side/).waitFor();
  },

  "both rooms of a band-pass may have a slot on the floor": async (ctx) => {
    const { page } = await ctx.open();
    await choose(page, "Type", "band-pass, both vented outward");
    await choose(page, "Port", "slot on the floor");
    await choose(page, "Port before the cones", "slot on the floor");
    await type(page, "Slot before the cones, height", "25");
    await type(page, "Port before the cones, length", "150");
    await go(page, "Saw");
    const parts = page.locator("#parts", { hasText: "port roof before the drivers" });
    await parts.waitFor();
    ctx.check(/1 × port roof\s/.test(await parts.innerText()), "a roof behind the divider too");
    // Two mouths are cut out of the front, each as a rectangle.
    const mouths = page.locator("#details label", { hasText: /front, outer layer: port/ });
    ctx.equal(await mouths.count(), 2, "mouths in the outer layer");
  },

  "a wedge takes two rooms with the driver in its divider, and radiators in its sides": async (ctx) => {
    const { page } = await ctx.open();
    await choose(page, "Type", "band-pass, rear closed");
    await go(page, "Saw");
    await type(page, "Free width", "1000");
    await type(page, "Free depth", "480");
    await unfold(page, /^Shape/);
    await choose(page, "Shape of the sides", "back leans forward (wedge)");
    await type(page, "Depth along the top", "340");
    const divider = page.locator("#parts tr", { hasText: "divider" });
    await divider.waitFor();
    ctx.check((await divider.innerText()).includes("edge to the template"), await divider.innerText());
    const holes = page.locator("#details label", { hasText: "divider: driver" });
    ctx.equal(await holes.count(), 1, "the driver's hole is in the divider");
    ctx.check((await page.locator("#details").innerText()).includes("divider: edge"), "corners of the divider to mark out");
    await go(page, "Desk");
    await choose(page, "Type", "passive radiator");
    for (const [label, value] of [
      ["Radiator area, each", "200"], ["Radiator moving mass, each", "200"], ["Radiator resonance", "16"],
    ]) await type(page, label, value);
    await unfold(page, /^Radiator mounting sizes/);
    await choose(page, "Radiators sit in", "the sides");
    for (const [label, value] of [
      ["Radiator cut-out diameter", "150"], ["Radiator outside diameter", "170"], ["Radiator depth, with its travel", "60"],
    ]) await type(page, label, value);
    await go(page, "Saw");
    await page.locator("#details label", { hasText: "left: radiator's cut-out" }).first().waitFor();
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
