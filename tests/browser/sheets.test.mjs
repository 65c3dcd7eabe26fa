// From the box to the sheet: layout, ticks, templates, weight.
import { readFile } from "node:fs/promises";
import { choose, field, go, type } from "./page.mjs";

const open = async (page, id) => {
  const key = page.locator(`#${id} .foldkey`).first();
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
};
const stock = async (page) => {
  const key = page.getByRole("button", { name: /Sheets, offcuts, saw, router/ });
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
};
const steps = (page) => page.locator("#layout .cutsheet .tick");

export default {
  "a sheet is laid out, its cuts numbered, and a tick stays": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await open(page, "layout");
    await page.locator("#layout svg.cutplan").waitFor();
    const pieces = await page.locator("#layout .cutplan .piece").count();
    ctx.equal(pieces, 8, "two fronts, back, top, bottom, two sides, the strips' blank");
    const cuts = await steps(page).count();
    ctx.check(cuts >= pieces, `${cuts} cuts free ${pieces} pieces`);
    ctx.check((await page.locator("#layout").innerText()).includes("Proved"), "the demo is within the exact method's reach");
    const first = await steps(page).first().innerText();
    ctx.check(/^1\. (across|along) at \d+/.test(first), `first cut: ${first}`);
    await steps(page).first().locator("input").check();
    await page.waitForTimeout(600);
    await page.reload();
    await go(page, "Saw");
    await open(page, "layout");
    await page.locator("#layout svg.cutplan").waitFor();
    ctx.check(await steps(page).first().locator("input").isChecked(), "the tick is kept");
  },

  "an offcut in stock is cut first and a price is added up": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await open(page, "layout");
    await stock(page);
    await type(page, "Price of a sheet", "42,5");
    await page.locator("#layout .pairs", { hasText: "42.50" }).waitFor();
    await type(page, "Offcut, width", "900");
    await type(page, "Offcut, length with the grain", "1800");
    await page.locator("#layout h3", { hasText: "offcut" }).waitFor();
    ctx.equal(await page.locator("#layout .cutsheet").count(), 1, "the offcut holds everything");
    await choose(page, "Cuts change direction", "once");
    await page.locator("#layout svg.cutplan").first().waitFor();
    await type(page, "Sheet width", "300");
    await type(page, "Offcut, width", "200");
    await page.locator("#layout .gap", { hasText: "larger than every sheet" }).waitFor();
    ctx.check(await field(page, "Sheet width").isVisible(), "the page lives on");
  },

  "several boards have one bill, and a price that is missing is named": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const boards = page.getByRole("button", { name: /^Parts from other boards/ });
    await boards.click();
    await type(page, "Second board, by calipers", "25");
    await choose(page, "Front, outer layer, from", "the second board");
    await open(page, "layout");
    await stock(page);
    await type(page, "Price of a sheet", "40");
    const layout = page.locator("#layout");
    await layout.getByText("No total price yet; missing: Second board, price of a sheet.").waitFor();
    ctx.equal(await layout.locator("h3", { hasText: "Bill of materials" }).count(), 1, "bills");
    await type(page, "Second board, price of a sheet", "61,5");
    // One sheet of each board.
    await layout.locator(".pairs div", { hasText: "all sheets together" }).filter({ hasText: "101.50" }).waitFor();
  },

  "templates are saved at full size": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    await open(page, "templates");
    const save = async (name) => {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.locator("#templates").getByRole("button", { name }).first().click(),
      ]);
      return [download.suggestedFilename(), await readFile(await download.path(), "utf8")];
    };
    const [dxfName, dxf] = await save("DXF: front, outer layer");
    ctx.equal(dxfName, "front-0.dxf", "name of the file");
    ctx.check(dxf.includes("AC1009") && dxf.includes("CIRCLE") && dxf.trimEnd().endsWith("EOF"), "a DXF file of release 12");
    const [, svg] = await save("SVG: front, outer layer");
    ctx.check(/width="710mm"/.test(svg), "one unit is one millimetre");
    const [pagesName, pages] = await save(/Save pages to print/);
    ctx.equal(pagesName, "templates.html", "name of the pages");
    ctx.check((pages.match(/<svg/g) ?? []).length > 10, "a page for each part of each board");
  },

  "weight, lifting and a crash are said without approval": async (ctx) => {
    const { page } = await ctx.open({ device: ctx.LAPTOP });
    await go(page, "Saw");
    await open(page, "bench");
    const text = await page.locator("#bench").innerText();
    ctx.check(/12\.8/.test(text), "12.8 kg of board, as the meshes weigh");
    ctx.check(text.includes("20 g") && text.includes("no approval"), "a figure for scale");
    ctx.check(!text.includes("two people"), "one person lifts the box alone");
    await page.getByRole("button", { name: /Driver weight and bolts/ }).click();
    await type(page, "Weight of one driver", "14000");
    await page.locator("#bench", { hasText: "two people" }).waitFor();
  },
};
