// The feed in depth: what is folded away, what it says, and that it is the same as the report's arithmetic by hand.
import { choose, field, go, near, newDesign, number, numbers, panel, saved, type, unfold } from "./page.mjs";

const FEED = ["Every cable", "Fuse, short circuit, distance", "Battery and alternator", "Second battery", "Capacitor",
  "Prove the cable", "What to measure"];
const AMPLIFIER = ["Ratings and outputs", "Gain, step by step", "Power in this box", "Speaker cable, what it takes"];

const key = (page, title) => page.locator(".foldkey", { has: page.locator(`span:text-is("${title}")`) });

/** Opens a fold by its title and returns what is in it. */
async function open(page, title) {
  if ((await key(page, title).getAttribute("aria-expanded")) !== "true") await key(page, title).click();
  return page.locator(".fold", { has: key(page, title) }).locator(".folded");
}

const text = async (part) => (await part.innerText()).replaceAll("\u00a0", " ");

/** The value beside a name in a list of names and values. */
const value = async (part, name) =>
  (await part.locator("dl.pairs div", { has: part.page().locator(`dt:text-is("${name}")`) }).locator("dd").innerText())
    .replaceAll("\u00a0", " ");

const stops = async (page) => (await page.locator("main .note.stop").allInnerTexts()).join(" | ").replaceAll("\u00a0", " ");
const cares = async (page) => (await page.locator(".column.answer .note").allInnerTexts()).join(" | ").replaceAll("\u00a0", " ");

export default {
  "the feed is simple until a fold is opened": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    ctx.equal(await page.locator("#feed .fig").count(), 3, "figures of the feed");
    for (const title of [...FEED, ...AMPLIFIER]) {
      ctx.equal(await key(page, title).getAttribute("aria-expanded"), "false", title);
    }
    ctx.equal(await page.getByLabel("Capacity, Ah").count(), 0, "entries of a closed fold");
    for (const title of [...FEED, ...AMPLIFIER]) {
      const part = await open(page, title);
      ctx.check((await text(part)).length > 40, `${title} says something`);
      ctx.check(!/NaN|Infinity/.test(await text(part)), title);
      await key(page, title).click();
      ctx.equal(await page.locator(".folded").count(), 0, `${title} is gone again`);
    }
  },

  "a second amplifier makes a distribution, and the main cable carries both": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "Every cable");
    const rows = () => part.locator("table tbody tr").evaluateAll((all) => all.map((row) => [...row.cells].map((c) => c.innerText)));
    ctx.equal((await rows()).length, 1, "cables of a single amplifier");
    await type(page, "Another amplifier on this feed", "20");
    const three = await rows();
    ctx.equal(three.length, 3, "main and two branches");
    // 250 W · (13.8/14.4)² / 0.75 / 13.8 V = 22.2 A of our own.
    near(ctx, number(three[0][1]), 22.2 + 20, 0.6, "main cable");
    near(ctx, number(three[1][1]), 22.2, 0.6, "first branch");
    near(ctx, number(three[2][1]), 20, 0.1, "second branch");
    for (const row of three) {
      const [fuse] = numbers(row[4]);
      ctx.check(fuse >= number(row[1]) - 0.5, `fuse ${fuse} A carries ${row[1]}`);
      ctx.check(/mm²/.test(row[2]) && /AWG/.test(row[2]), `both lists of sizes: ${row[2]}`);
    }
    await choose(page, "Current comes back by", "the vehicle's body");
    ctx.check(/assumed/.test(await text(part)), "an assumed body says so");
    await type(page, "Body and joints, mΩ", "2,5");
    ctx.check(/the one you entered/.test(await text(part)), "a measured one too");
    ctx.check(/back by the body/.test(await page.locator('#feed [data-figure="cable"]').innerText()), "one cable only");
  },

  "four amplifiers hang on branches of their own": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "Every cable");
    const rows = () => part.locator("table tbody tr").evaluateAll((all) => all.map((row) => [...row.cells].map((c) => c.innerText)));
    await type(page, "Another amplifier on this feed", "40");
    await type(page, "A second one", "25");
    await type(page, "A third one", "10");
    await part.getByLabel("its cable from there, if not as long").nth(2).fill("3");
    const five = await rows();
    ctx.equal(five.length, 5, "main and four branches");
    near(ctx, number(five[0][1]), 22.2 + 75, 0.6, "main cable");
    [22.2, 40, 25, 10].forEach((amperes, at) => near(ctx, number(five[at + 1][1]), amperes, 0.6, `branch ${at + 1}`));
    ctx.check(/3(\.0)? m/.test(five[4][0].replaceAll("\u00a0", " ")), five[4][0]);
    ctx.check(five.every((row) => /carries/.test(row[2])), "what each carries");
    // 500 A of others: told, and the rest of the feed stays.
    await type(page, "Another amplifier on this feed", "500");
    ctx.equal((await rows()).length, 5, "still there");
    ctx.equal(await page.locator("#feed .gap").count(), 0, "nothing is refused");
  },

  "the feed is proved place by place, expected beside read": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "What to measure");
    await type(page, "Current while you measure", "10");
    await part.locator(".foldkey", { hasText: "Read them one by one" }).tap();
    const prove = page.locator(".prove");
    const keep = async (value) => {
      await prove.getByLabel("You read").fill(value);
      await prove.getByRole("button", { name: "Keep and judge" }).tap();
      return (await prove.locator(".note").innerText()).replaceAll("\u00a0", " ");
    };
    const next = () => prove.getByRole("button", { name: "Next place" }).tap();
    const title = () => prove.locator(".steptitle").innerText();
    ctx.check(/rested/.test(await title()), await title());
    ctx.check(/Right/.test(await keep("12.6")), "12.6 V at rest");
    ctx.check(/Charge it/.test(await keep("11.9")), "11.9 V at rest");
    await next();
    ctx.check(/Right/.test(await keep("14,2")), "14.2 V running");
    await next();
    ctx.check(/main fuse/.test(await title()), await title());
    // 10 A through a fuse of 80 A: 12.5 mV by itself; 3 W of a joint are 0.3 V more, 10 W are 1 V.
    ctx.check(/Right/.test(await keep("13")), "13 mV over the fuse");
    ctx.check(/joint is poor/.test(await keep("450")), "450 mV over the fuse");
    ctx.check(/burns more than 10 W/.test(await keep("1100")), "1.1 V over the fuse");
    const picture = await prove.locator("svg.probes").getAttribute("aria-label");
    ctx.check(/R: red lead: main fuse holder, battery side/.test(picture), picture);
    // A stop is overruled with a reason, until the place is read again.
    await prove.getByRole("button", { name: "Go on all the same…" }).tap();
    ctx.check(await prove.getByRole("button", { name: "Record the reason" }).isDisabled(), "not without a reason");
    await prove.getByLabel("Reason, kept with the job").fill("new holder on Monday");
    await prove.getByRole("button", { name: "Record the reason" }).tap();
    ctx.check(/Reason: new holder on Monday/.test(await prove.innerText()), "the reason stays in sight");
    await saved(page, "new holder on Monday");
    await prove.getByLabel("You read").fill("abc");
    ctx.equal(await prove.getByRole("alert").count(), 1, "nonsense is told");
    await saved(page, "feed main fuse");
    await page.reload();
    await ctx.running(page);
    await go(page, "Car");
    await open(page, "What to measure");
    await page.locator(".foldkey", { hasText: "Read them one by one" }).tap();
    ctx.check(/11\.9/.test(await page.locator(".prove .found").innerText()), "the last reading of the place stays");
    ctx.check(/across the main fuse/.test(await page.locator("#meter ul.kept").innerText()), "and stands in the log");
  },

  "the loudspeaker cable says what it does to the level": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await type(page, "Speaker cable, one way", "15");
    await choose(page, "Speaker cable size", "1.5 mm²");
    const part = await open(page, "Speaker cable, what it takes");
    const rows = await part.locator("table").nth(1).locator("tbody tr").allInnerTexts();
    ctx.equal(rows.length, 9, "third octaves");
    // 0.4 Ω beside some 3.6 Ω and more: at most 0.95 dB, and not the same everywhere.
    const levels = rows.map((row) => number(row.split("\t").at(-1)));
    ctx.check(Math.min(...levels) < -0.5 && Math.min(...levels) > -0.96, `${levels}`);
    ctx.check(Math.max(...levels) - Math.min(...levels) > 0.2, `${levels}`);
  },

  "the gain reckons with the sag": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "Gain, step by step");
    const [set, without] = [number(await value(part, "set for")), number(await value(part, "without sag it could reach"))];
    // √(250·(13.8/14.4)²·4) = 30.3 V without sag.
    near(ctx, without, 30.3, 0.06, "without sag");
    ctx.check(set < without && set > 0.96 * without, `${set} V with at most 3 % of drop`);
    await type(page, "Power to set the gain for", "100");
    near(ctx, number(await value(part, "set for")), 20, 0.051, "100 W into 4 Ω");
    ctx.check((await text(part)).includes("The power wanted sets it."), "what sets it");
    near(ctx, number(await value(page.locator("#amplifier"), "gain: set for")), 20, 0.051, "the sheet says the same");
  },

  "weighing and measuring a cable tells copper from clad aluminium": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "Prove the cable");
    await choose(page, "Sold as", "4 AWG");
    // ASTM B258: 21.15 mm²; 8.89 g/cm³ (IEC 60028): 94 g in half a metre; 0.8152 mΩ a metre.
    await type(page, "Stripped piece, length", "500");
    await type(page, "Its mass, bare", "94");
    await type(page, "Current through the cable", "20");
    await type(page, "Over one metre of it, mV", "16,3");
    ctx.check(/It is copper\./.test(await text(part)), await text(part));
    near(ctx, number(await value(part, "counts as copper of")), 21.2, 0.3, "mm²");
    ctx.equal(await stops(page), "", "copper needs no stop");
    // The same size in class 10A: 3.32 g/cm³ and 1/0.629 of the resistance.
    await type(page, "Its mass, bare", "35,1");
    await type(page, "Over one metre of it, mV", "25,9");
    ctx.check(/It is copper-clad aluminium\./.test(await text(part)), await text(part));
    ctx.check(/not copper/.test(await stops(page)), "and it stops");
  },

  "doubts about the feed come and go": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const before = await cares(page);
    await open(page, "Fuse, short circuit, distance");
    await type(page, "Battery to fuse, along the cable", "600");
    ctx.check(/600 mm from the battery/.test(await cares(page)), await cares(page));
    await type(page, "Battery to fuse, along the cable", "150");
    ctx.equal(await cares(page), before, "a near fuse");
    await open(page, "Battery and alternator");
    await choose(page, "Battery", "lead-acid, AGM or gel");
    ctx.check(/break 1000 A or 2000 A/.test(await cares(page)), await cares(page));
    await type(page, "Main fuse, stated to break", "10000");
    ctx.equal(await cares(page), before, "a fuse that breaks it");
    await type(page, "Alternator or converter, rated", "80");
    ctx.check(/At hot idle the alternator lacks/.test(await cares(page)), await cares(page));
    await type(page, "Alternator or converter, rated", "150");
    ctx.equal(await cares(page), before, "an alternator that covers it");
    await choose(page, "Conductor", "copper-clad aluminium");
    ctx.equal((await page.locator("#feed .figs dd").allInnerTexts()).slice(1).map((t) => t.trim()), ["–", "–"], "no size, no fuse");
    ctx.check(/no size and no fuse is recommended/.test(await cares(page)), await cares(page));
  },

  "bridging needs no second entry, and what can't be bridged is told where it was chosen": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await open(page, "Ratings and outputs");
    await choose(page, "Load is driven by", "two channels, bridged");
    ctx.equal(await page.locator("#amplifier .gap").count(), 0, "two channels are meant");
    ctx.check(/Bridged, each channel sees half/.test(await text(page.locator("#amplifier"))), "said what it means");
    await choose(page, "Channels", "2");
    await choose(page, "Channels", "1");
    ctx.check(/two channels/.test(await text(page.locator("#amplifier .gap"))), "told at the amplifier");
  },

  "a capacitor that is all resistance is not said to help": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const part = await open(page, "Capacitor");
    await type(page, "Capacitor, F", "500");
    await type(page, "Its resistance, mΩ", "50");
    ctx.check(/takes the whole sag at once/.test(await text(part)), await text(part));
    ctx.equal(await value(part, "given within the sag allowed"), "0.0 J", "gives nothing");
  },

  "the feed's entries travel with the design": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await open(page, "Battery and alternator");
    await type(page, "Capacity, Ah", "95");
    await saved(page, "battery Ah");
    await page.reload();
    await ctx.running(page);
    await go(page, "Car");
    await open(page, "Battery and alternator");
    ctx.equal(await field(page, "Capacity, Ah").inputValue(), "95", "after a reload");
  },

  "the feed unfolded is accessible on phone and laptop, day and night": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      for (const colorScheme of ["light", "dark"]) {
        const { page } = await ctx.open({ device: { ...device, colorScheme } });
        await go(page, "Car");
        await open(page, "Second battery");
        await choose(page, "Second battery", "through a charger");
        await type(page, "Battery to battery, one way", "3");
        await open(page, "Prove the cable");
        await choose(page, "Sold as", "16 mm²");
        await type(page, "Stripped piece, length", "500");
        await type(page, "Its mass, bare", "71");
        await unfold(page);
        ctx.equal(await ctx.axe(page), [], `${device.viewport.width} px, ${colorScheme}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        ctx.check(wide <= 0, `${device.viewport.width} px: ${wide} px too wide`);
        const small = await page.locator(".foldkey").evaluateAll((keys) => keys.filter((k) => k.getBoundingClientRect().height < 44).length);
        ctx.equal(small, 0, "fold keys under 44 px");
      }
    }
  },

  "an empty design asks for what the feed needs": async (ctx) => {
    const { page } = await ctx.open();
    await newDesign(page);
    await go(page, "Car");
    const part = await open(page, "Battery and alternator");
    await type(page, "Capacity, Ah", "abc");
    ctx.equal(await part.locator("[role=alert]").count(), 1, "nonsense is told");
    ctx.check((await page.locator("#feed .gap").count()) === 1, "what is missing");
    await panel(page, "design");
  },
};
