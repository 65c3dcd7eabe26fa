// The car: quick checks without a design, and the meter check of the demo.
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { choose, field, go, kept, line, near, number, numbers, panel, saved, type, unfold } from "./page.mjs";

const DATA = join(dirname(fileURLToPath(import.meta.url)), "../published/data/electrical");

/** Rows of a reference table as objects; see the README beside them for the sources. */
function table(name) {
  const [head, ...rows] = readFileSync(join(DATA, name), "utf8").trim().split("\n").map((row) => row.split(","));
  return rows.map((row) => Object.fromEntries(row.map((cell, i) => [head[i], cell])));
}

const quick = (page) => page.locator("#quick");
const answer = (page) => quick(page).locator(".note p").innerText();
const ask = (page, title) => quick(page).getByRole("button", { name: title, exact: true }).click();
const put = (page, label, value) => quick(page).getByLabel(label).first().fill(value);

/** Types a reading and returns the verdict. */
async function read(page, value) {
  await page.getByLabel("You read").fill(value);
  return page.locator("#meter .note p").innerText();
}

const couldBe = (page) => page.locator("#meter table.states").first().locator("tbody th").allInnerTexts();

export default {
  "a quick check is two taps from opening the page and needs no design": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await ask(page, "Coil");
    await put(page, "Nominal impedance of the coil", "4");
    // 0.7 to 0.95 of the nominal impedance: common practice, no source.
    const band = numbers(await answer(page));
    near(ctx, band[0], 2.8, 0.006, "low");
    near(ctx, band[1], 3.8, 0.006, "high");
    ctx.equal(await quick(page).locator(".note.plain").count(), 1, "a band is no verdict");
    // The pocket meter may be off by 1 % and four counts of 0.1 Ω: 3.9 Ω is no fault yet.
    for (const [reading, says, sign] of [
      ["3,4", /sound coil/, "Good:"], ["3.9", /no sign of a fault/, "Good:"], ["1,7", /below/, "Care:"], ["6.9", /above/, "Care:"],
    ]) {
      await put(page, "Meter reads, leads taken off", reading);
      ctx.check(says.test(await answer(page)), `${reading} Ω of 4 Ω: ${await answer(page)}`);
      ctx.check((await answer(page)).startsWith(sign), `${reading} Ω of 4 Ω is marked ${sign}: ${await answer(page)}`);
    }
    await put(page, "Meter reads, leads taken off", "-1");
    ctx.check(!/NaN/.test(await answer(page)) && /can't be/.test(await answer(page)), await answer(page));
    ctx.equal(await quick(page).getByRole("button", { name: "Keep with this job" }).count(), 0, "nothing to keep of what can't be");
  },

  "the gain voltage is √(P·Z)": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await ask(page, "Gain voltage");
    for (const [watts, ohms] of [[250, 4], [450, 2], [700, 1], [75.5, 8]]) {
      await put(page, "Power wanted", String(watts).replace(".", ","));
      await put(page, "Load", String(ohms));
      near(ctx, number(await answer(page)), Math.sqrt(watts * ohms), 0.051, `${watts} W into ${ohms} Ω`);
    }
  },

  "the voltage drop follows from the handbook's resistance": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "unit");
    await page.getByLabel("AWG").check();
    await go(page, "Car");
    await ask(page, "Voltage drop");
    const copper = table("awg_copper.csv");
    for (const [gauge, amperes, metres] of [["4", 60, 4.6], ["8", 30, 5], ["1/0", 150, 4]]) {
      await quick(page).locator("select").selectOption({ label: `${gauge} AWG` });
      await put(page, "Current", String(amperes));
      await put(page, "Run, one way", String(metres));
      await put(page, "Supply", "13.8");
      // Handbook ohms per 1000 ft at 20 °C; copper's 0.00393 per kelvin to the 40 °C the page names; out and back.
      const perFoot = Number(copper.find((row) => row.awg === gauge).ohm_per_1000ft_20C_handbook) / 1000;
      const ohms = (perFoot / 0.3048) * 2 * metres * (1 + 0.00393 * 20);
      const [volts, percent, milliohms] = numbers(await answer(page));
      near(ctx, volts, amperes * ohms, 0.006 + 0.002 * amperes * ohms, `${gauge} AWG, volts`);
      near(ctx, percent, (100 * amperes * ohms) / 13.8, 0.06 + 0.02, `${gauge} AWG, percent`);
      near(ctx, milliohms, ohms * 1000, 0.06 + 2 * ohms, `${gauge} AWG, milliohms`);
    }
  },

  "cable and fuse agree with 33 CFR 183.425 table 5 and the fuse list": async (ctx) => {
    const { page } = await ctx.open();
    await panel(page, "unit");
    await page.getByLabel("AWG").check();
    await go(page, "Car");
    await ask(page, "Cable and fuse");
    const ampacity = Object.fromEntries(table("ampacity_33cfr183_425_table5.csv").map((row) => [row.awg, Number(row.amp_A_insul_75C)]));
    const copper = Object.fromEntries(table("awg_copper.csv").map((row) => [row.awg, Number(row.ohm_per_1000ft_20C_handbook)]));
    const fuses = [...new Set(table("fuse_ratings.csv").map((row) => Number(row.rating_A)))];
    // Percent of 13.8 V; the conductor's own heat by the same balance: 40 °C + 35 K (I/Iz)², and copper's 0.00393 per kelvin.
    const lost = (gauge, amperes, metres) => {
      const celsius = 40 + 35 * Math.min(1, amperes / (ampacity[gauge] * Math.sqrt(35 / 45))) ** 2;
      return (100 * amperes * (copper[gauge] / 304.8) * 2 * metres * (1 + 0.00393 * (celsius - 20))) / 13.8;
    };
    for (const [amperes, metres] of [[20, 2], [60, 4.6], [100, 5], [150, 3]]) {
      await put(page, "Current", String(amperes));
      await put(page, "Run, one way", String(metres));
      const said = await answer(page);
      const gauge = /^(?:Good: )?(\S+) AWG/.exec(said.replaceAll("\u00a0", " "))?.[1];
      ctx.check(gauge in ampacity, `${amperes} A over ${metres} m: ${said}`);
      const [fuse] = numbers(/with a (.*?) fuse/.exec(said)[1]);
      const carries = number(/carries (\d+)/.exec(said)[1]);
      const percent = number(/loses ([\d.]+)/.exec(said)[1]);
      // The table is for 30 °C; at 40 °C the rise that is left bounds the current: √((75−40)/(75−30)), as IEC 60287's heat balance.
      near(ctx, carries, ampacity[gauge] * Math.sqrt(35 / 45), 0.51, `${gauge} AWG carries`);
      ctx.check(fuse >= amperes && fuse <= carries, `fuse ${fuse} A between ${amperes} and ${carries} A`);
      ctx.check(fuses.includes(fuse), `a ${fuse} A fuse is made`);
      ctx.equal(fuses.filter((one) => one > fuse && one <= carries), [], `larger fuses that still protect ${gauge} AWG`);
      const drop = lost(gauge, amperes, metres);
      near(ctx, percent, drop, 0.06 + 0.003 * drop, `${gauge} AWG, drop`);
      ctx.check(percent <= 3, `drop ${percent} %`);
      // No thinner one would do: it carries less than the load, or loses more than 3 %, or no fuse fits.
      const sizes = Object.keys(ampacity).sort((a, b) => ampacity[a] - ampacity[b]);
      const thinner = sizes[sizes.indexOf(gauge) - 1];
      const less = ampacity[thinner] * Math.sqrt(35 / 45);
      const does = less >= amperes && fuses.some((one) => one >= amperes && one <= less) &&
        lost(thinner, amperes, metres) <= 3;
      ctx.check(!does, `${thinner} AWG would do for ${amperes} A over ${metres} m`);
    }
  },

  "a quick answer is kept with the job only when asked": async (ctx) => {
    const { page } = await ctx.open();
    await saved(page, "hatchback");
    await go(page, "Car");
    await ask(page, "Gain voltage");
    await put(page, "Power wanted", "250");
    await put(page, "Load", "4");
    await page.waitForTimeout(400);
    ctx.check(!Object.values(await kept(page, "kc.design."))[0].includes("31.6"), "kept unasked");
    await quick(page).getByRole("button", { name: "Keep with this job" }).click();
    await saved(page, "31.6");
    ctx.check(await quick(page).getByRole("button", { name: "Kept with this job" }).isDisabled(), "kept once");
  },

  "nonsense in a quick check is told at its field": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    for (const title of ["Coil", "Cable and fuse", "Voltage drop", "Gain voltage"]) {
      await ask(page, title);
      for (const text of ["abc", "0", "-5", "1e9", "nan", "1.234,5", "99999999999"]) {
        for (const input of await quick(page).locator("input").all()) await input.fill(text);
        const said = await quick(page).innerText();
        ctx.check(!/NaN|inf\b|Infinity/.test(said), `${title}, "${text}": ${said}`);
        const told = (await quick(page).locator('[role="alert"]').count()) + (await quick(page).getByText("This can't be").count()) +
          (await quick(page).getByText("No cable of the list").count());
        ctx.check(told > 0 || /^(99999999999|1e9)$/.test(text), `${title} says nothing about "${text}"`);
      }
    }
  },

  "the meter check tells the demo's wirings apart": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    // Two coils of 1.8 Ω in series: 3.6 Ω; in parallel: 0.9 Ω; one of them alone or the other shorted: 1.8 Ω.
    ctx.check(/As drawn|fits the wiring as drawn/.test(await read(page, "3,6")), `3.6 Ω: ${await read(page, "3.6")}`);
    ctx.equal(await page.locator("#meter .note.good").count(), 1, "3.6 Ω is good");
    ctx.check((await read(page, "0.9")).includes("not the wiring as drawn"), "0.9 Ω");
    ctx.check((await couldBe(page)).some((text) => /parallel instead of series|wired .*parallel/.test(text)), `0.9 Ω: ${await couldBe(page)}`);
    ctx.equal(await page.locator("#meter .note.stop").count(), 1, "0.9 Ω stops");
    ctx.check((await read(page, "1.8")).includes("not the wiring as drawn"), "1.8 Ω");
    const half = (await couldBe(page)).join("; ");
    ctx.check(/coil 1[AB] (shorted|joined across itself)/.test(half), `1.8 Ω: ${half}`);
    ctx.check(/Nothing this wiring|not the wiring/.test(await read(page, "250")), "250 Ω");
    ctx.check(!/As drawn/.test(await read(page, "0")), "0 Ω");
    ctx.check((await couldBe(page)).some((text) => /plus and minus of the line touch|shorted/.test(text)), `0 Ω: ${await couldBe(page)}`);
    await page.getByRole("button", { name: "Open line (OL)" }).click();
    ctx.check((await page.locator("#meter .note p").innerText()).includes("not the wiring as drawn"), "open line");
    const open = (await couldBe(page)).join("; ");
    ctx.check(/open|does not reach|missing/.test(open), `open line: ${open}`);
    for (const text of ["abc", "-1", "1.2.3", "9999999"]) {
      await page.getByLabel("You read").fill(text);
      ctx.equal(await page.locator("#meter [role=alert]").count(), 1, `message about "${text}"`);
      ctx.equal(await page.locator("#meter .note").count(), 0, `verdicts on "${text}"`);
      ctx.equal(await page.getByRole("button", { name: "Keep this reading" }).count(), 0, `keeping "${text}"`);
    }
  },

  "the leads' own resistance is taken off": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    // 4.6 Ω with leads of 1.0 Ω is the 3.6 Ω of the coils; without, it is too much for the 7 % of two 1.8 Ω coils.
    ctx.check((await read(page, "4.6")).includes("not") || (await page.locator("#meter .note.good").count()) === 0, "4.6 Ω, leads 0");
    await type(page, "Leads shorted read", "1,0");
    ctx.equal(await page.locator("#meter .note.good").count(), 1, `4.6 Ω, leads 1 Ω: ${await read(page, "4.6")}`);
    ctx.equal(await page.locator("#meter .note.good").count() && (await read(page, "3.6")) && (await page.locator("#meter .note.good").count()), 0, "3.6 Ω, leads 1 Ω");
  },

  "a reading is kept with its time and changes the place's line": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    ctx.check((await line(page)).includes("Nothing read yet"), "before");
    const expected = numbers(await line(page));
    near(ctx, expected[0], 3.6 * 0.93, 0.03, "expected, low");
    near(ctx, expected[1], 3.6 * 1.07, 0.03, "expected, high");
    await read(page, "0.9");
    await page.getByRole("button", { name: "Keep this reading" }).click();
    ctx.check((await line(page)).startsWith("Not yet"), `after 0.9 Ω: ${await line(page)}`);
    await read(page, "3.6");
    await page.getByRole("button", { name: "Keep this reading" }).click();
    ctx.check(/reads as drawn/.test(await line(page)), `after 3.6 Ω: ${await line(page)}`);
    const list = await page.locator("ul.kept li").allInnerTexts();
    ctx.equal(list.length, 2, "readings kept");
    ctx.check(/3\.6/.test(list[0]) && /0\.9/.test(list[1]), `newest first: ${list}`);
    ctx.check(/\d{1,2}[:.]\d{2}/.test(list[0]), `with its time: ${list[0]}`);
    ctx.check(await page.getByRole("button", { name: "Undo" }).isDisabled(), "a reading is nothing to undo");
    await page.waitForTimeout(400);
    await page.reload();
    await ctx.running(page);
    await go(page, "Car");
    ctx.check(/reads as drawn/.test(await line(page)), "after a reload");
    ctx.equal((await page.locator("ul.kept li").allInnerTexts()).length, 2, "after a reload");
    // The reading is judged against the wiring of now.
    await page.getByRole("radio", { name: /all coils in parallel/ }).check();
    ctx.check((await line(page)).startsWith("Not yet"), `wired otherwise: ${await line(page)}`);
  },

  "earlier readings are folded, not lost": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    for (let i = 0; i < 14; i += 1) {
      await read(page, (3 + i / 10).toFixed(1));
      await page.getByRole("button", { name: "Keep this reading" }).click();
    }
    ctx.equal(await page.locator("#meter ul.kept li").count(), 12, "the newest");
    await page.locator("#meter .foldkey", { hasText: "2 earlier readings" }).click();
    const all = await page.locator("#meter ul.kept li b").allInnerTexts();
    ctx.equal([all.length, all.at(-1)], [14, "3 Ω"], "down to the first");
    await page.getByLabel("Remark").last().fill("cold morning");
    await saved(page, "cold morning");
  },

  "a second kind of driver is entered where it is asked for": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "3");
    await choose(page, "Of these, of a second kind", "1");
    ctx.check(/Still needed/.test(await page.locator("#wiring").innerText()), "what is missing is told");
    await type(page, "Second kind, nominal impedance of one coil", "8");
    await type(page, "Second kind, DC resistance of one coil", "6,1");
    // Two drivers of two coils of 1.8 Ω and one of 6.1 Ω, in series: 13.3 Ω.
    const series = await page.locator("label.option", { hasText: "all coils in series" }).innerText();
    const band = numbers(series.split("meter")[1]);
    near(ctx, (band[0] + band[1]) / 2, 4 * 1.8 + 6.1, 0.05, "reading of the whole chain");
    ctx.check(/unequal/.test(await page.locator(".warnings").innerText()), "unequal power is told");
    await choose(page, "Of these, of a second kind", "none");
    ctx.check(await field(page, "Second kind, nominal impedance of one coil").isVisible(), "the fold stays open");
  },

  "far above its ratings an amplifier is not promised more than they say": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "2");
    await choose(page, "Voice coils", "2");
    await type(page, "Nominal impedance of one coil", "4");
    await type(page, "DC resistance of one coil, Re", "3.4");
    // 250 W into 4 Ω and 450 W into 2 Ω at 14.4 V, supply 13.8 V: into 16 Ω a quarter of the 4 Ω, 57.4 W, and on the line through
    // both 250·(5/9)²·(13.8/14.4)² = 70.9 W.
    const text = (await page.locator("label.option", { hasText: "all coils in series" }).innerText()).replaceAll("\u00a0", " ");
    ctx.check(/57 to 71 W, not rated/.test(text), text);
    await page.getByRole("radio", { name: /all coils in series/ }).check();
    // 71 W / 0.75 / 13.8 V = 6.9 A.
    near(ctx, number(await page.locator('[data-figure="draw"] dd').innerText()), 7, 0.6, "draw");
  },

  "a load below what the amplifier stands stops": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await type(page, "Stable down to", "2");
    await page.getByRole("radio", { name: /all coils in parallel/ }).check();
    ctx.check(/loads the amplifier with 1/.test(await line(page)), `line: ${await line(page)}`);
    ctx.check((await page.locator("label.option", { hasText: "parallel" }).innerText()).includes("below what the amplifier stands"), "marked");
    ctx.check((await page.locator(".warnings .note.stop").count()) >= 1, "a warning that stops");
  },

  "copper-clad aluminium gets no size, and the drawing follows the wiring": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const cable = async () => (await page.locator("#feed .figs dd").allInnerTexts())[1];
    await page.getByRole("radio", { name: /all coils in parallel/ }).check();
    const steps = await page.locator("#wiring ol.steps li").allInnerTexts();
    const copper = await cable();
    await choose(page, "Conductor", "copper-clad aluminium");
    ctx.check(/^\d/.test(copper), `copper: ${copper}`);
    // The ampacity table is for copper; the page gives the other metal's resistance and drop only.
    ctx.check(!/\d/.test(await cable()), `clad aluminium: ${await cable()}`);
    await page.getByRole("radio", { name: /all coils in series/ }).check();
    const other = await page.locator("#wiring ol.steps li").allInnerTexts();
    ctx.check(steps.length > other.length, `steps: ${steps.length} in parallel, ${other.length} in series`);
    ctx.check(other.some((step) => /coil 1A − to coil 1B \+/.test(step)), `series: ${other}`);
    await unfold(page);
    await choose(page, "Voice coils", "4");
    const options = await page.locator("label.option .load").allInnerTexts();
    // Four 2 Ω coils balanced: 8, 2 (two by two) and 0.5 Ω.
    ctx.equal(options.map(number).sort((a, b) => a - b).filter((one, i, all) => one !== all[i - 1]), [0.5, 2, 8], "loads of four coils");
    ctx.check(await field(page, "Voice coils").isVisible(), "the entry stays");
  },
};
