// Drivers and terminals in other faces than the front, and a board that comes off, on a phone.
import { choose, field, go, number, type, unfold } from "./page.mjs";

/** The number behind a line of the ledger. */
const ledger = async (page, name) =>
  number(await page.locator("#ledger tr", { hasText: name }).first().locator("td").last().innerText());

export default {
  "a board that comes off gets battens, gasket and screws, and goes on last": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await unfold(page);
    ctx.equal(await field(page, "Battens behind it, thickness").count(), 0, "battens before they are asked for");
    await choose(page, "Corner strips, 45°", "none");
    await choose(page, "Board that comes off", "back");
    await page.locator("#ledger", { hasText: "battens" }).waitFor();
    // The demo is 673.8 mm wide and 293 mm high inside: 20 × 20 mm, two of 673.8, two of 253 mm.
    ctx.equal(await ledger(page, "battens"), 0.74, "litres of the battens");
    const opening = await page.locator("#picture", { hasText: "Opening behind" }).innerText();
    ctx.check(/633\.8 × 253/.test(opening.replace(/\s+/g, " ")), `opening: ${opening}`);
    await page.locator("#order", { hasText: "Not glued" }).waitFor();
    const titles = await page.locator("#order .tick, #order label").allInnerTexts();
    ctx.check(/\bback\b/.test(titles.at(-1)), `the last step is ${titles.at(-1)}`);
    // Perimeter 2 × (673.8 + 293) mm; screws every 150 mm: 5 and 2 on each side.
    const bill = (await page.locator("#layout").innerText()).replace(/\s+/g, " ");
    ctx.check(bill.includes("gasket of the board that comes off 1.9 m"), bill.slice(-400));
    ctx.check(bill.includes("screws of the board that comes off 14 ×"), bill.slice(-400));
    ctx.check(bill.includes("battens 20 × 20 1.9 m"), bill.slice(-400));
    await type(page, "Battens behind it, thickness", "0");
    await page.waitForFunction(() => !document.querySelector("#ledger").innerText.includes("battens"));
    await choose(page, "Board that comes off", "top");
    // The top stands between front and back: without battens it rests on nothing.
    await page.locator("#picture", { hasText: "rests on nothing" }).waitFor();
  },

  "a driver looks out of the back and the terminals lie in a window of the outer front": async (ctx) => {
    const { page } = await ctx.open({ device: ctx.LAPTOP });
    await go(page, "Saw");
    await unfold(page);
    await choose(page, "Corner strips, 45°", "none");
    await choose(page, "Drivers in another face than the front", "back");
    ctx.equal(await field(page, "How many of them there").inputValue(), "all", "how many of them");
    await page.locator("#details", { hasText: "back: driver" }).waitFor();
    // The demo's recess is flush; said where it is entered.
    await page.locator("#build", { hasText: "no recess is cut" }).waitFor();
    ctx.check(!/front[^\n]*: driver/.test(await page.locator("#details").innerText()), "no hole in the front");
    await choose(page, "Terminals in", "front");
    await type(page, "Window around them in the outer front, on each side", "15");
    await page.locator("#details", { hasText: "front, outer layer: window" }).waitFor();
    // 76 mm and 15 mm on each side.
    const details = (await page.locator("#details").innerText()).replace(/\s+/g, " ");
    ctx.check(/outer layer: window, 106 × 106/.test(details), details);
    ctx.check(/inner layer: terminals, 76 × 76/.test(details), details);
    ctx.equal(await ctx.axe(page), [], "faults of accessibility");
  },
};
