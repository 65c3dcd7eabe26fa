// One whole job by hand on a phone, from the driver's data sheet to the fuse.
import {
  choose, everything, field, figure, figures, go, ledger, line, link, near, newDesign, number, numbers, panel, saved, type, typeAll, unfold,
} from "./page.mjs";

/** The demo's invented data as a hand types it, some of it with a decimal comma. */
const DRIVER = [
  ["Driver", "Invented ten-inch, 2 × 2 Ω"], ["Resonance, fs", "29,0"], ["DC resistance of one coil, Re", "1,8"],
  ["Electrical Q, Qes", "0.52"], ["Mechanical Q, Qms", "6.5"], ["Total Q, Qts", "0,48"], ["Compliance volume, Vas", "33"],
  ["Piston area, Sd", "330"], ["Travel one way, Xmax", "14"], ["Inductance, Le", "2.2"], ["Moving mass, Mms", "141"],
  ["Force factor, Bl", "13,3"], ["Nominal impedance of one coil", "2"], ["Continuous power, all coils", "450"],
  ["Cut-out diameter", "233"], ["Outside diameter", "262"], ["Depth behind the flange", "140"],
  ["Magnet diameter", "156"], ["Volume behind the flange", "1,9"], ["Pole vent diameter", "30"],
];
const SPACE = [["Vehicle", "Invented hatchback"], ["Free width", "720"], ["Free height", "340"], ["Free depth", "360"]];
const BUILD = [
  ["Box", "Behind the seat"], ["Board, by calipers", "18,1"], ["Strip face", "60"],
  ["Terminal hole width", "76"], ["Terminal hole height", "76"],
];
const AMPLIFIER = [
  ["Amplifier", "Invented one-channel"], ["Rated power into 4 Ω", "250"], ["Rated power into 2 Ω", "450"],
  ["Rated power into 1 Ω", "700"], ["Rated at", "14,4"], ["Stable down to", "1"],
];

async function typeTheJob(page) {
  await newDesign(page);
  await go(page, "Desk");
  await unfold(page);
  await choose(page, "Voice coils", "2");
  await choose(page, "Data measured with", "coils in series");
  await typeAll(page, DRIVER);
  await choose(page, "Type", "closed");
  await type(page, "Wanted Qtc", "0,71");
  await type(page, "power", "250");
  await go(page, "Saw");
  await typeAll(page, SPACE);
  await choose(page, "Corner strips, 45°", "four upright");
  await unfold(page);
  await typeAll(page, BUILD);
  await go(page, "Car");
  await typeAll(page, AMPLIFIER);
  await type(page, "Cable run, one way", "4,6");
  await page.getByRole("radio", { name: /all coils in series/ }).check();
  await panel(page, "design");
  await type(page, "Name of the job", "Demo: hatchback, folded seat");
  await go(page, "Desk");
}

/** Inside width, height and depth as the saw sheet shows them, in mm. */
const dimensions = async (page, which) =>
  numbers(await page.locator(".pairs > div", { hasText: new RegExp(`^${which}`) }).locator("dd").innerText());

const radio = (page, text) => page.locator("label.option", { hasText: text }).innerText();

export default {
  "typed by hand on a phone it comes to what the demo comes to": async (ctx) => {
    const { page } = await ctx.open();
    const demo = await everything(page);
    const demoLink = await link(page);
    const demoFigures = await go(page, "Desk").then(() => figures(page));
    await newDesign(page);
    ctx.check((await line(page)).includes("Enter the driver's data sheet"), "an empty design asks for the driver");
    ctx.equal(await page.locator("[data-figure]").count(), 0, "figures of nothing");
    await typeTheJob(page);
    ctx.equal(await figures(page), demoFigures, "figures");
    const typed = await everything(page);
    for (const place of ["Desk", "Saw", "Car"]) ctx.equal(typed[place], demo[place], place);
    ctx.equal(await link(page), demoLink, "link");
  },

  "the demo's figures agree with closed-box theory, the handbook's ohms and Ohm": async (ctx) => {
    const { page } = await ctx.open();
    // R. H. Small, "Closed-Box Loudspeaker Systems", JAES 20 (1972): α = Vas/Vb, fc = fs √(1+α), Qtc = Qts √(1+α).
    const net = await figure(page, "net");
    const rise = Math.sqrt(1 + 33 / net);
    const qts = (0.52 * 6.5) / (0.52 + 6.5);
    near(ctx, await figure(page, "fc"), 29 * rise, 0.1, "fc");
    near(ctx, await figure(page, "qtc"), qts * rise, 0.006, "Qtc");
    // Same paper: f3/fc = √(k + √(k²+1)), k = 1/(2 Qtc²) − 1, of a box without leak or coil; the coil and the losses shift it.
    const k = 1 / (2 * (qts * rise) ** 2) - 1;
    near(ctx, await figure(page, "f3"), 29 * rise * Math.sqrt(k + Math.sqrt(k * k + 1)), 3, "f3");
    // Drive: U = √(P Z), 250 W into two coils of 2 Ω in series.
    const drive = await page.locator("#drive h2").innerText();
    near(ctx, numbers(drive)[1], Math.sqrt(250 * 4), 0.06, "drive voltage");

    await go(page, "Car");
    // Coils in series and parallel, plus 1 m out and back of 2.5 mm² at 7.98 Ω/km (IEC 60228 class 5, 20 °C);
    // the coils' 7 % is common practice, no source.
    const cable = (2 * 7.98) / 1000;
    const series = numbers((await radio(page, "all coils in series")).match(/meter.*/)[0]);
    near(ctx, series[0], 3.6 * 0.93 + cable, 0.006, "series, low");
    near(ctx, series[1], 3.6 * 1.07 + cable, 0.006, "series, high");
    const parallel = numbers((await radio(page, "all coils in parallel")).match(/meter.*/)[0]);
    near(ctx, parallel[0], 0.9 * 0.93 + cable, 0.006, "parallel, low");
    near(ctx, parallel[1], 0.9 * 1.07 + cable, 0.006, "parallel, high");
    ctx.equal((await page.locator("label.option .load").allInnerTexts()).map(number), [1, 4], "loads: 2/2 and 2+2 ohms");
    // Voltage-limited power goes with the square of the supply: 13.8 V where 14.4 V are rated (common practice, no source).
    const share = (13.8 / 14.4) ** 2;
    near(ctx, numbers((await radio(page, "all coils in series")).match(/\d+.W.*/)[0])[0], 250 * share, 1, "power into 4 Ω");
    near(ctx, numbers((await radio(page, "all coils in parallel")).match(/\d+.W.*/)[0])[0], 700 * share, 1, "power into 1 Ω");
    // Gain: √(P Z) at the power the amplifier gives here.
    const gain = page.locator("#amplifier .pairs > div", { hasText: "gain" });
    // Set with the loudspeaker off and the supply unloaded, it is to be right under load: the feed's drop, allowed to be
    // 3 % here, takes off as much.
    const unloaded = Math.sqrt(250 * share * 4);
    const set = number(await gain.locator("dd").first().innerText());
    ctx.check(set < unloaded && set > unloaded * 0.97, `gain voltage: ${set} of ${unloaded}`);
    // Draw: power over efficiency (75 %, the entry's default) and supply.
    const feed = await page.locator("#feed .figs dd").allInnerTexts();
    const draw = (250 * share) / 0.75 / 13.8;
    near(ctx, number(feed[0]), draw, 0.6, "draw");
    // The drop of the cable shown: IEC 60228 class 5 at 20 °C, copper's 0.00393 per kelvin (IEC 60028) to 40 °C.
    const ohmPerKm = { 6: 3.3, 10: 1.91, 16: 1.21, 25: 0.78, 35: 0.554, 50: 0.386 };
    const warm = 1 + 0.00393 * 20;
    const why = numbers(await page.locator("#feed > .small").first().innerText());
    const size = number(feed[1]);
    const volts = draw * 2 * 4.6 * (ohmPerKm[size] / 1000) * warm;
    near(ctx, why[1], volts, 0.02, "drop in volts");
    near(ctx, why[2], (100 * volts) / 13.8, 0.15, "drop in percent");
    // No thinner cable keeps the drop within the 3 % allowed.
    const thinner = { 16: 10, 25: 16, 35: 25, 50: 35 }[size];
    ctx.check((100 * draw * 2 * 4.6 * (ohmPerKm[thinner] / 1000) * warm) / 13.8 > 3, `${thinner} mm² would do`);
    const fuse = number(feed[2]);
    ctx.check(fuse <= why[0] && fuse >= draw, `fuse ${fuse} A between ${draw} A and ${why[0]} A`);
  },

  "the ledger is the sum of its lines, and each line is geometry": async (ctx) => {
    const { page } = await ctx.open();
    const net = await figure(page, "net");
    await go(page, "Saw");
    const rows = await ledger(page);
    const row = (text) => rows.find(([name]) => name.startsWith(text))?.[1] ?? Number.NaN;
    const [w, h, d] = await dimensions(page, "inside");
    const litre = 1e6;
    near(ctx, row("inside, empty"), (w * h * d) / litre, 0.02, "inside");
    near(ctx, row("driver"), -1.9, 0.001, "driver");
    // The cut-out through the inner layer of the double front.
    near(ctx, row("air in the driver's hole"), ((Math.PI / 4) * 233 ** 2 * 18.1) / litre, 0.01, "air behind the recess");
    // A 45° strip of 60 mm face is a right isosceles triangle with 60 mm hypotenuse: 60²/4 in section.
    near(ctx, row("corner strips"), (-4 * (60 ** 2 / 4) * h) / litre, 0.01, "strips");
    near(ctx, row("air in the terminal hole"), (76 * 76 * 18.1) / litre, 0.006, "terminal hole");
    near(ctx, row("terminal cup"), (-76 * 76 * 45) / litre, 0.006, "terminal cup");
    const [last, total] = rows.at(-1);
    ctx.check(last.startsWith("net"), "the last line is the net volume");
    near(ctx, total, rows.slice(0, -1).reduce((sum, [, value]) => sum + value, 0), 0.005 * rows.length, "sum");
    near(ctx, net, total, 0.051, "the desk's net volume");
    const outside = await dimensions(page, "outside");
    near(ctx, outside[0], w + 2 * 18.1, 0.06, "outside width");
    near(ctx, outside[1], h + 2 * 18.1, 0.06, "outside height");
    near(ctx, outside[2], d + 3 * 18.1, 0.06, "outside depth, front double");
  },

  "the box goes into the space it was given": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const outside = await dimensions(page, "outside");
    // 720 × 340 × 360 mm free, 5 mm of air at each face.
    for (const [i, free] of [720, 340, 360].entries()) {
      ctx.check(outside[i] <= free - 10 + 1e-9, `outside ${outside[i]} mm in ${free} mm less 10 mm`);
    }
    ctx.equal(await page.locator(".note.stop").count(), 0, "things in the demo that do not fit");
  },

  "a driver that goes into the space gets a box for a wide range of Qtc": async (ctx) => {
    const { page } = await ctx.open();
    // In the smallest boxes the driver fills the width, so there are no corner strips.
    await go(page, "Saw");
    await page.getByLabel("Corner strips, 45°").selectOption("none");
    // Vas is 33 L and Qts 0.48: these want some 33, 19, 13 and 10 L; below, the box gets narrower than the driver and the page says so; the driver needs 140 mm of depth, the space has 360 mm.
    for (const wanted of ["0.68", "0.8", "0.9", "1.0"]) {
      await go(page, "Desk");
      await type(page, "Wanted Qtc", wanted);
      await go(page, "Saw");
      const gap = page.locator("#picture .gap");
      ctx.equal((await gap.count()) ? await gap.innerText() : "", "", `what the saw says at Qtc ${wanted}`);
      ctx.check((await page.locator("table.parts tbody tr").count()) >= 4, `parts at Qtc ${wanted}`);
      const stops = await page.locator(".note.stop").allInnerTexts();
      ctx.equal(stops, [], `what does not fit at Qtc ${wanted}`);
    }
  },

  "every part that shares a size is cut at one fence setting": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Saw");
    const parts = await page.locator("table.parts tbody tr").evaluateAll((rows) =>
      rows.map((row) => [row.cells[0].innerText, row.cells[1].firstChild.textContent]));
    const wanted = [];
    for (const [name, size] of parts) {
      const [, count, piece] = /^(\d+) × (.*)$/.exec(name);
      // Length and width are set at the fence, the thickness is the board's.
      for (const mm of numbers(size).slice(0, 2)) wanted.push(`${piece.trim()} ${mm} × ${count}`);
    }
    const settings = await page.locator(".setting").evaluateAll((all) => all.map((one) => ({
      size: one.querySelector(".set b").textContent,
      blade: one.querySelector(".set small").textContent,
      cuts: [...one.querySelectorAll(".tick")].map((cut) =>
        [cut.querySelector("span").textContent, cut.querySelector("b").textContent]),
    })));
    const found = settings.flatMap(({ size, cuts }) =>
      cuts.map(([text, count]) => `${text.slice(0, text.lastIndexOf(","))} ${number(size)} × ${number(count)}`));
    ctx.equal(found.sort(), wanted.sort(), "cuts");
    const positions = settings.map(({ size, blade }) => `${size} ${blade}`);
    ctx.equal(new Set(positions).size, positions.length, "fence settings, each once");
    ctx.check(wanted.length > positions.length, "some parts share a setting");
  },

  "a changed number redraws at once": async (ctx) => {
    const { page } = await ctx.open();
    const before = await figures(page);
    const canvas = () => page.locator("[data-chart] canvas").first().evaluate((one) => one.toDataURL().length + one.toDataURL());
    const drawn = await canvas();
    await type(page, "Wanted Qtc", "0.75");
    const after = await figures(page);
    ctx.check(number(after.net) < number(before.net), `net ${after.net} after ${before.net}`);
    near(ctx, await figure(page, "qtc"), 0.75, 0.011, "Qtc");
    await page.waitForFunction((old) => {
      const one = document.querySelector("[data-chart] canvas");
      return one.toDataURL().length + one.toDataURL() !== old;
    }, drawn);
  },

  "a side that came out shorter changes the ledger and the desk, until it is cleared": async (ctx) => {
    const { page } = await ctx.open();
    const net = await figure(page, "net");
    const fc = await figure(page, "fc");
    await go(page, "Saw");
    const [w, h, d] = await dimensions(page, "inside");
    const before = (await ledger(page)).at(-1)[1];
    const cut = page.locator(".cut", { hasText: "side, depth" });
    const planned = number(await page.locator(".setting", { has: cut }).locator(".set b").innerText());
    near(ctx, planned, d, 0.001, "planned depth of a side");
    await cut.locator(".small-key").click();
    const input = cut.getByRole("textbox").first();
    await input.click();
    await input.pressSequentially(String(planned - 2).replace(".", ","));
    const after = (await ledger(page)).at(-1)[1];
    near(ctx, after, before - (2 * w * h) / 1e6, 0.011, "net after a side came out 2 mm shorter");
    ctx.check((await cut.locator(".small-key").innerText()).includes(String(planned - 2)), "the cut shows what came out");
    await go(page, "Desk");
    near(ctx, await figure(page, "net"), after, 0.051, "net on the desk");
    ctx.check((await figure(page, "fc")) > fc, "fc rises");
    await go(page, "Saw");
    const again = page.locator(".cut", { hasText: "side, depth" });
    if ((await again.getByRole("textbox").count()) === 0) await again.locator(".small-key").click();
    const [all, left, right] = await again.getByRole("textbox").all();
    for (const side of [all, left, right]) ctx.equal(await side.inputValue(), String(planned - 2), "the fields show what came out");
    await right.fill(String(planned));
    near(ctx, (await ledger(page)).at(-1)[1], after, 0.001, "net with one side 2 mm shorter: the shorter one decides");
    ctx.equal([await all.inputValue(), await left.inputValue()], ["", String(planned - 2)], "each side has its own size");
    await left.fill(String(planned));
    near(ctx, (await ledger(page)).at(-1)[1], before, 0.001, "net with both sides as planned");
    await all.fill("");
    near(ctx, (await ledger(page)).at(-1)[1], before, 0.001, "net after clearing");
    await go(page, "Desk");
    ctx.equal(await figure(page, "net"), net, "net on the desk after clearing");
  },

  "ticks last, and undo takes back entries only": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Desk");
    const before = await figures(page);
    await type(page, "Wanted Qtc", "0.75");
    await go(page, "Saw");
    // A tick belongs to a size: the height of the front is the same in both boxes.
    const tick = page.locator(".cut", { hasText: "front, height" }).locator(".tick input");
    await tick.check();
    await go(page, "Desk");
    const changed = await figures(page);
    await page.getByRole("button", { name: "Undo" }).click();
    ctx.equal(await figures(page), before, "figures after undo");
    ctx.equal(await field(page, "Wanted Qtc").inputValue(), "0.71", "one step takes back the whole entry");
    await go(page, "Saw");
    ctx.check(await tick.isChecked(), "undo left the tick");
    await page.getByRole("button", { name: "Redo" }).click();
    await go(page, "Desk");
    ctx.equal(await figures(page), changed, "figures after redo");
    ctx.check(await page.getByRole("button", { name: "Redo" }).isDisabled(), "nothing more to redo");
    await saved(page, '"0.75"');
    await page.reload();
    await ctx.running(page);
    await go(page, "Saw");
    ctx.check(await tick.isChecked(), "the tick is there after a reload");
    await tick.uncheck();
    await page.waitForTimeout(400);
    await page.reload();
    await ctx.running(page);
    await go(page, "Saw");
    ctx.check(!(await tick.isChecked()), "a tick taken off stays off");
  },

  "undo goes back a hundred entries": async (ctx) => {
    const { page } = await ctx.open();
    const qtc = field(page, "Wanted Qtc");
    for (let i = 0; i < 100; i += 1) {
      await qtc.fill((0.6 + i / 1000).toFixed(3));
      await qtc.blur();
    }
    const undo = page.getByRole("button", { name: "Undo" });
    for (let i = 0; i < 100; i += 1) await undo.click();
    ctx.equal(await qtc.inputValue(), "0.71", "the first value");
  },

  "a vented box by hand: tuning, port and its speed": async (ctx) => {
    const { page } = await ctx.open();
    await choose(page, "Type", "vented");
    await type(page, "Port inside diameter", "70");
    await type(page, "Wanted net volume", "40");
    await type(page, "Wanted tuning", "40");
    near(ctx, await figure(page, "fb"), 40, 0.6, "tuning");
    const speed = await figure(page, "port");
    ctx.check(speed > 0 && speed < 200, `port air ${speed} m/s`);
    ctx.equal(await page.locator("[data-chart]").count(), 3, "charts: level, travel, port air");
    await go(page, "Saw");
    const text = await page.locator(".pairs > div", { hasText: "port length" }).locator("dd").innerText();
    const [length] = numbers(text);
    const net = (await ledger(page)).at(-1)[1];
    // Helmholtz: L = c² S / (4π² f² V) − end corrections, 0.85 r flanged outside and between 0.61 r and 0.85 r inside
    // (Levine & Schwinger 1948; Rayleigh). c of dry air at 20 °C is 343.2 m/s; losses and rounding shift it a little.
    const radius = 0.035;
    const acoustic = (343.2 ** 2 * Math.PI * radius ** 2) / (4 * Math.PI ** 2 * 40 ** 2 * (net / 1000));
    const [low, high] = [acoustic - 2 * 0.85 * radius, acoustic - (0.85 + 0.61) * radius].map((m) => m * 1000);
    ctx.check(length > low * 0.93 && length < high * 1.07, `port ${length} mm, Helmholtz ${low.toFixed(0)} to ${high.toFixed(0)} mm`);
  },
};
