// The space as measured: arches, recline, stations; the box made for it, drawn in it, and warned about where it hits.
import { choose, go, type } from "./page.mjs";

const unfold = async (page, name) => {
  const key = page.getByRole("button", { name });
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
};

export default {
  "a box goes between wheel arches or is told what must give way": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Keep free/);
    await choose(page, "Wheel arches", "left and right");
    await type(page, "Arch stands in from the side by", "30");
    await type(page, "Arch height above the floor", "120");
    await type(page, "Arch length, front to back", "250");
    const found = page.locator("#space-drawn");
    await found.locator("svg polygon.keep").nth(3).waitFor();
    ctx.check(/Gap to the left wheel arch/.test(await found.innerText()), await found.innerText());
    const main = page.locator("main");
    ctx.check(!/comes too near/.test(await main.innerText()), "the box was made for the arches");
    // The same beside the box in its own drawing, with a key.
    await page.locator("#picture svg polygon.nearby").first().waitFor();
    const key = await page.locator("#picture .drawkey").innerText();
    ctx.check(/kept free \(.*left wheel arch/.test(key) && /Chain line/.test(key), key);
    await unfold(page, /^Measure the space/);
    await type(page, "Box stands from the left limit by", "10");
    await main.getByText(/The box comes too near to the left wheel arch: at its left/).first().waitFor();
  },

  "a seat back by angle gauge, stations that can't be read, corners of a floor": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page, /^Measure the space/);
    await type(page, "Seat back leans from upright, degrees", "20");
    const found = page.locator("#space-drawn");
    // 360 − 340 · tan 20° (0.36397).
    await found.getByText("236.3").first().waitFor();
    await type(page, "Side stations: height, free depth", "0 350; oops");
    await page.getByText(/Side stations.*: stations are numbers in mm/).first().waitFor();
    await type(page, "Side stations: height, free depth", "0 350; 300 300");
    await page.getByText(/stations are numbers in mm/).first().waitFor({ state: "detached" });
    // The same in inches: 13-3/4 in = 349.25 mm.
    await type(page, "Side stations: height, free depth", "in 0 13-3/4; 12 12");
    await page.waitForTimeout(300);
    ctx.check((await page.getByText(/stations are numbers in mm/).count()) === 0, "inches are read");
    await type(page, "Floor, front left to rear right corner", "810");
    await type(page, "Floor, front right to rear left corner", "800");
    // (810² − 800²) / (4 · 720).
    await found.getByText("5.6", { exact: false }).first().waitFor();
  },

  "a box whose drivers look up lies turned in a plain block of space": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const sizes = async (label) => {
      const row = page.locator("#picture dt", { hasText: label });
      await row.waitFor();
      return (await row.locator("xpath=following-sibling::dd[1]").innerText()).match(/[\d.]+/g).map(Number);
    };
    await choose(page, "Drivers' face looks", "up");
    const [width, height, depth] = await sizes("as it lies in the car");
    ctx.equal((await sizes("outside, width")).join(), [width, depth, height].join(), "its depth stands upright");
    // 340 high and 360 deep, less 5 mm of air at each face.
    ctx.check(height <= 330 && depth <= 350, `${height} high, ${depth} deep`);
    await type(page, "Free depth at the top, if less", "300");
    await page.getByText(/planned in a plain block of space/).first().waitFor();
  },
};
