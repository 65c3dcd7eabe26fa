// The guided meter check, and wirings beyond the regular ones.
import { choose, closePanel, field, go, kept, line, near, number, numbers, panel, saved, type, unfold } from "./page.mjs";

const guided = async (page) => {
  await go(page, "Car");
  await page.getByRole("button", { name: "Guided, one question at a time" }).click();
};
const input = (page) => page.getByLabel("you read", { exact: true });
const keep = (page) => page.getByRole("button", { name: "Keep, go on" });
const verdict = (page) => page.locator(".guide .note").first();

/** Types what the meter shows and keeps it; the verdict as it stood before. */
async function read(page, value) {
  if (value === "open") await page.getByRole("button", { name: "Open (OL)" }).click();
  else await input(page).fill(value);
  const said = await verdict(page).innerText();
  await keep(page).click();
  return said;
}

/** Counts tones and buzzes instead of making them. */
const LISTEN = () => {
  window.heard = [];
  const param = () => ({ setValueAtTime() {}, linearRampToValueAtTime() {}, set value(hz) { window.heard.push(hz); } });
  const node = () => ({ connect() {}, start() {}, stop() {}, frequency: param(), gain: { setValueAtTime() {}, linearRampToValueAtTime() {} } });
  window.AudioContext = class {
    constructor() { this.currentTime = 0; this.destination = node(); }
    resume() { return Promise.resolve(); }
    createOscillator() { return node(); }
    createGain() { return node(); }
  };
  window.buzzed = [];
  Object.defineProperty(Navigator.prototype, "vibrate", { configurable: true, value: (ms) => { window.buzzed.push(ms); return true; } });
};

export default {
  "a sound job is asked two questions, and no warning": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    ctx.equal(await line(page), "Touch the probes to each other.", "first question");
    ctx.check(await keep(page).isDisabled(), "nothing read, nothing to keep");
    ctx.check(/leads/.test(await read(page, "0,2")), "leads");
    ctx.check((await line(page)).startsWith("Probes on the two wires of the pulled amplifier plug"), await line(page));
    // Two coils of 1.8 Ω ± 7 % in series and about 15 mΩ of cable.
    const expected = numbers(await page.locator(".guide .read .big").first().innerText());
    near(ctx, expected[0], 3.6 * 0.93 + 0.015, 0.02, "expected, low");
    near(ctx, expected[1], 3.6 * 1.07 + 0.015, 0.02, "expected, high");
    // The leads' 0.2 Ω are taken off: 3.8 is 3.6.
    ctx.check(/As drawn/.test(await read(page, "3.8")), "the line");
    ctx.check((await line(page)).startsWith("Done"), await line(page));
    ctx.equal(await page.locator(".guide .note.good").count(), 1, "good");
    ctx.equal(await page.locator(".guide .note.stop, .guide .note:not(.good)").count(), 0, "warnings");
    const text = await page.locator(".guide").innerText();
    ctx.check(/1\.5 V cell/.test(text) && /Quiet tone/.test(text) && /swapped/.test(text), "what no resistance shows");
    ctx.equal(await page.locator(".guide ul.kept li").count(), 2, "both readings kept");
    await page.getByRole("button", { name: "Back to the Car" }).click();
    ctx.check(/reads as drawn/.test(await line(page)), await line(page));
    ctx.equal(await page.locator(".warnings .note").count(), 0, "warnings in the Car");
  },

  "everything that reads so is named one by one when asked": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const meter = page.locator("#meter");
    await meter.getByLabel("You read").fill("1.8");
    const fold = meter.locator(".foldkey", { hasText: /All \d+ states/ });
    const count = number(await fold.innerText());
    ctx.equal(await meter.locator(".folded table.states").count(), 0, "nothing is made before it is opened");
    await fold.click();
    const rows = meter.locator(".folded table.states tbody tr");
    ctx.equal(await rows.count(), Math.min(count, 100), "rows");
    const texts = await rows.allInnerTexts();
    ctx.equal(new Set(texts).size, texts.length, "no two alike");
    ctx.check(texts.some((text) => /coils warm/.test(text) && /to/.test(text)), `a fault with warm coils, with its band: ${texts}`);
    await meter.getByLabel("You read").fill("3.6");
    ctx.check(await meter.locator(".note.good").count() === 1, "as drawn");
  },

  "a wiring of another number of coils is told at its field": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await page.locator("#wiring .foldkey", { hasText: "Wire it another way" }).click();
    const own = page.locator("#wiring .folded", { has: page.locator(".editor") });
    ctx.equal(await own.locator(".note").count(), 0, "a wiring of these coils");
    await own.locator('input[type="text"]').first().fill("1A|2A");
    ctx.check(/no wiring of these coils/.test(await own.locator(".note").innerText()), "told");
    ctx.equal(await own.locator('input[type="text"]').first().inputValue(), "1A|2A", "kept as typed");
  },

  "a fault is narrowed down place by place": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    await read(page, "0");
    // Half of what two coils in series read: one of them bridged or shorted.
    ctx.check(/not the wiring as drawn/.test(await read(page, "1.8")), "the line");
    const first = await line(page);
    ctx.check(/coil 1[AB]|Coil 1[AB]|box terminals/.test(first), `next place: ${first}`);
    const picture = await page.locator(".guide svg.probes").getAttribute("aria-label");
    ctx.check(/R: red lead/.test(picture) || /box terminals/.test(picture), `picture: ${picture}`);
    // Coil 1A is the bridged one: nothing across it, nothing wrong with it by itself; coil 1B is sound.
    const truth = (question) => {
      if (/Across coil 1A/.test(question)) return "0";
      return /box terminals|coil 1[AB]|Coil 1[AB]/.test(question) ? "1.8" : "0";
    };
    let asked = 0;
    for (; asked < 6 && !(await line(page)).startsWith("Done"); asked += 1) await read(page, truth(await line(page)));
    ctx.check(asked >= 1 && asked < 6, `${asked} more places`);
    const left = await page.locator(".guide table.states tbody th").allInnerTexts();
    ctx.check(left.length >= 1 && /1A/.test(left[0]), `left: ${left}`);
    ctx.check(left.every((text) => !/^coil 1B (joined across itself|shorted)$/.test(text)), `coil 1B is out: ${left}`);
  },

  "a verdict is overruled only with a reason, and the reason is kept": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    await read(page, "0");
    await read(page, "250");
    for (let i = 0; i < 4 && !(await line(page)).startsWith("Done"); i += 1) await read(page, "250");
    ctx.equal(await page.locator(".guide .note.stop").count(), 1, "stop");
    const overrule = page.getByRole("button", { name: "Overrule, keep the reason" });
    ctx.check(await overrule.isDisabled(), "without a reason");
    await page.getByLabel("Go on all the same, because").fill("meter on the wrong range, checked with another");
    await overrule.click();
    await saved(page, "checked with another");
    await page.getByRole("button", { name: "Back to the Car" }).click();
    ctx.check(/overruled/.test(await line(page)) && /wrong range/.test(await line(page)), await line(page));
    await page.reload();
    await ctx.running(page);
    await go(page, "Car");
    ctx.check(/overruled/.test(await line(page)), "after a reload");
  },

  "each coil is read by itself first if wished": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    await read(page, "0");
    await page.getByRole("button", { name: "Each coil by itself first" }).click();
    ctx.check((await line(page)).startsWith("Coil 1A by itself"), await line(page));
    ctx.check(/What this coil should read/.test(await read(page, "1.8")), "1A");
    ctx.check((await line(page)).startsWith("Coil 1B by itself"), await line(page));
    ctx.check(/open/.test(await read(page, "open")), "1B open");
    ctx.check((await line(page)).startsWith("Probes on"), await line(page));
    // An open coil in series: an open line, and only coil 1B to blame.
    await read(page, "open");
    const left = await page.locator(".guide table.states tbody th").allInnerTexts();
    ctx.check(left.length > 0 && /coil 1B open/.test(left[0]), `left: ${left}`);
  },

  "good and wrong sound and buzz differently, and can be silenced": async (ctx) => {
    const { page } = await ctx.open({ init: LISTEN });
    await guided(page);
    await read(page, "0.1");
    await read(page, "0.9");
    const heard = await page.evaluate(() => [window.heard, window.buzzed]);
    ctx.equal(heard[0].length, 2, `tones: ${heard[0]}`);
    ctx.check(heard[0][0] > heard[0][1], `good is higher than wrong: ${heard[0]}`);
    ctx.equal(heard[1].length, 2, `buzzes: ${heard[1]}`);
    ctx.check(heard[1][0] < heard[1][1], `good is shorter than wrong: ${heard[1]}`);
    await panel(page, "unit");
    await page.getByRole("group", { name: /Sound and buzz/ }).getByLabel("off").check();
    await closePanel(page);
    await guided(page);
    if ((await line(page)).startsWith("Done")) await page.getByRole("button", { name: "Start again" }).click();
    await read(page, "1.0");
    ctx.equal(await page.evaluate(() => [window.heard.length, window.buzzed.length]), [2, 2], "silent");
  },

  "keys count one step of the meter, at the thumb that holds the phone": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    const [less, more] = [page.getByRole("button", { name: "One count less" }), page.getByRole("button", { name: "One count more" })];
    await more.click();
    await more.click();
    ctx.equal(await input(page).inputValue(), "0.2", "two counts of 0.1 Ω");
    await less.click();
    await less.click();
    await less.click();
    ctx.equal(await input(page).inputValue(), "0.0", "not below nothing");
    const right = await more.boundingBox();
    ctx.check(right.x > 195, `right: ${right.x}`);
    await panel(page, "unit");
    await page.getByLabel("the left hand").check();
    await page.waitForFunction(() => localStorage.getItem("kc.hand") === "left");
    await page.reload();
    await ctx.running(page);
    await guided(page);
    const left = await more.boundingBox();
    ctx.check(left.x + left.width < 195, `left: ${left.x}`);
    ctx.check(left.height >= 44 && left.width >= 44, "large enough");
  },

  "a remark is written on a reading and stays": async (ctx) => {
    const { page } = await ctx.open();
    await guided(page);
    await read(page, "0");
    await read(page, "3.6");
    const remark = page.locator(".guide ul.kept li").first().getByLabel("Remark");
    ctx.check(/As drawn/.test(await remark.inputValue()), "the verdict of then");
    await remark.fill("after the drive home, warm");
    await remark.press("Enter");
    await saved(page, "after the drive home, warm");
    const stored = Object.values(await kept(page, "kc.design."))[0];
    ctx.check(stored.includes('"line"') && stored.includes('"meter leads"'), "subjects");
  },

  "the guide can be read, reached and touched on phone and laptop, day and night": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      for (const colorScheme of ["light", "dark"]) {
        const { page } = await ctx.open({ device: { ...device, colorScheme } });
        await guided(page);
        const look = async (what) => {
          ctx.equal(await ctx.axe(page), [], `axe, ${colorScheme}, ${what}`);
          const small = await page.locator(".guide button, .guide input").evaluateAll((all) =>
            all.map((one) => [one.innerText || one.getAttribute("aria-label") || one.id, one.getBoundingClientRect()])
              .filter(([, box]) => box.height > 0 && (box.height < 44 || box.width < 44)).map(([name]) => name));
          ctx.equal(small, [], `small targets, ${what}`);
          const width = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
          ctx.check(width <= 0, `wider than the page by ${width}, ${what}`);
        };
        await look("leads");
        await input(page).fill("0");
        await look("leads read");
        await keep(page).click();
        await input(page).fill("1.8");
        await look("line read");
        await keep(page).click();
        await look("next place");
        await page.close();
      }
    }
  },

  "eight drivers with two coils each are drawn without moving the sheet sideways": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "8");
    const options = page.locator('input[name="wiring"]');
    // s·p = 16 coils: 1/16, 4/16, 1, 4, 16 times a coil. A way for each load first, all of them with a tap.
    ctx.equal(await options.count(), 5, "a way for each load");
    await page.locator("#wiring").getByRole("button", { name: "Show all 16 ways" }).click();
    ctx.equal(await options.count(), 16, "wirings of eight drivers with two coils");
    for (let i = 0; i < 16; i += 1) {
      await options.nth(i).check();
      const size = await page.locator("#wiring svg.wiring").evaluate((svg) => {
        const box = svg.parentElement;
        const text = Math.min(...[...svg.querySelectorAll("text")].map((one) => {
          const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
          return Number.parseFloat(getComputedStyle(one).fontSize) * scale;
        }));
        return { over: box.scrollWidth - box.clientWidth, text, coils: svg.querySelectorAll("rect.paper").length };
      });
      ctx.check(size.over <= 0, `wiring ${i}: wider by ${size.over}`);
      ctx.check(size.text >= 12, `wiring ${i}: text of ${size.text} px`);
      ctx.equal(size.coils, 16, `wiring ${i}: coils`);
      const steps = await page.locator("#wiring ol.steps li").count();
      // Sixteen coils and two posts: 34 ends, each wire joins two ends of one net.
      ctx.check(steps >= 17 && steps <= 32, `wiring ${i}: ${steps} steps`);
    }
  },

  "wirings with unlike branches and equal shares are offered, and one is used": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    const fold = page.locator(".foldkey", { hasText: "Further ways with equal shares" });
    ctx.equal(await fold.count(), 0, "none for one driver");
    await unfold(page);
    await choose(page, "Drivers in the box", "3");
    if ((await fold.getAttribute("aria-expanded")) !== "true") await fold.click();
    // By hand: one driver's pair side by side before two pairs in series, side by side, and the other way round.
    const list = page.locator("#wiring .powerlist .jump");
    const texts = (await list.allInnerTexts()).map((t) => t.replaceAll("\u00a0", " ").split("\n"));
    ctx.equal(texts.slice(0, 2), [["(1A-1B)|((2A|2B)-(3A|3B))", "1.33 Ω"], ["(1A|1B)-((2A-2B)|(3A-3B))", "3 Ω"]], "both, with their loads");
    ctx.check(texts.length > 10, `and those with coils apart: ${texts.length}`);
    ctx.check(/V across each coil; damped to Qes 0\.\d\d/.test((await page.locator("label.option").first().innerText()).replaceAll("\u00a0", " ")),
      "voltage and damping of each");
    // Only those of one load, on wish: 3 Ω is a coil and a half.
    const load = page.locator("#wiring").getByLabel("With a load of");
    await load.selectOption({ label: "3\u00a0Ω" });
    const of3 = await list.locator("small").allInnerTexts();
    ctx.check(of3.length >= 1 && of3.every((text) => text.replaceAll("\u00a0", " ") === "3 Ω"), `${of3}`);
    await load.selectOption({ index: 0 });
    ctx.equal((await list.count()), texts.length, "all again");
    await list.nth(1).click();
    const chosen = await page.locator("label.option.chosen").innerText();
    ctx.check(/wired your way/.test(chosen), chosen);
    ctx.equal(await page.locator(".warnings .note", { hasText: "share unequally" }).count(), 0, "equal shares");
    ctx.equal(await page.locator("#wiring svg.wiring rect.paper").count(), 6, "drawn");
  },

  "which of two drivers is off is asked next, although warm coils would blur it": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "2");
    await type(page, "Nominal impedance of one coil", "4");
    await type(page, "DC resistance of one coil, Re", "3.4");
    await page.getByRole("radio", { name: /all coils in parallel/ }).check();
    await page.getByRole("button", { name: "Guided, one question at a time" }).click();
    await input(page).fill("0.3");
    await keep(page).click();
    // Four coils of 3.4 Ω side by side read 0.85 Ω; two of them 1.7 Ω, and 0.3 Ω of leads with the cable.
    await input(page).fill("2.1");
    await keep(page).click();
    ctx.check(/^Across coil/.test(await page.locator("h1.line").innerText()), await page.locator("h1.line").innerText());
  },

  "the longest wirings stay within a phone's sheet": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "8");
    await choose(page, "Voice coils", "4");
    // s·p = 32 coils: six loads.
    ctx.equal(await page.locator("label.option").count(), 6, "a way for each load");
    const fold = page.locator(".foldkey", { hasText: "Further ways with equal shares" });
    if ((await fold.getAttribute("aria-expanded")) !== "true") await fold.click();
    ctx.check(/millions of ways/.test(await page.locator("#wiring").innerText()), "told that not every one is listed");
    const more = page.locator("#wiring").getByRole("button", { name: "Show more" });
    const before = await page.locator("#wiring .powerlist .jump").count();
    await more.click();
    ctx.equal(await page.locator("#wiring .powerlist .jump").count(), 2 * before, "more at a tap");
    const over = await page.locator("#wiring .option .what, #wiring .powerlist span").evaluateAll((all) =>
      all.filter((one) => one.scrollWidth > one.clientWidth + 1 || one.getBoundingClientRect().right > window.innerWidth).length);
    ctx.equal(over, 0, "wirings wider than the sheet");
  },

  "coils are joined by touch, and the unequal share is told": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    await choose(page, "Drivers in the box", "2");
    const editor = page.locator(".editor");
    const key = (name) => editor.getByRole("button", { name, exact: true });
    await page.getByRole("radio", { name: /all coils in parallel/ }).check();
    await key("1A|1B|2A|2B").click();
    await key("Take apart").click();
    for (const coil of ["1B", "2A", "2B"]) await key(coil).click();
    await key("In parallel").click();
    ctx.check(await key("Use this wiring").isDisabled(), "not joined yet");
    await key("1A").click();
    await key("1B|2A|2B").click();
    await key("In series").click();
    await key("Use this wiring").click();
    ctx.check((await page.locator("label.option.chosen").innerText()).includes("wired your way"), "own wiring is chosen");
    ctx.check((await page.locator(".warnings").innerText()).includes("share unequally"), "warned");
    // By hand: the coil before the three takes 3/4 of the power.
    const shares = await page.locator("table.shares tbody tr").allInnerTexts();
    ctx.check(shares.some((row) => /^1A/.test(row) && /75\s%/.test(row)), `shares: ${shares}`);
    near(ctx, number(await page.locator("label.option.chosen .load").innerText()), 2 * 4 / 3, 0.01, "load");
    // Ten twelfths for driver 1; 20·lg(2/2.309) = −1.25 dB against equal shares, 10·lg 3 = 4.8 dB of heat.
    await go(page, "Desk");
    const told = await page.locator("#curves .first", { hasText: "Unequal shares" }).innerText();
    ctx.check(/driver 1 takes 83 %.*1\.2 dB quieter.*coil 1A .* 4\.8 dB/.test(told), told);
    await page.locator(".foldkey", { hasText: "Unequal shares, driver by driver" }).click();
    const cones = page.locator('[data-chart="cones"]');
    await cones.waitFor();
    ctx.check(/Driver 1.*Driver 2/s.test(await cones.locator(".reading").innerText()), "the cursor reads both cones");
    ctx.equal(await page.locator("#curves .fold li", { hasText: /^Driver \d: \d+ % of the power/ }).count(), 2, "a row for each driver");
    await go(page, "Car");
    await unfold(page);
    // Typed, it is the same.
    await type(page, "Coil wiring", "(1A-1B)|(2A-2B)");
    ctx.equal(await page.locator(".warnings .note", { hasText: "share unequally" }).count(), 0, "equal again");
  },

  "which coils to order, and the load's minimum": async (ctx) => {
    const { page } = await ctx.open();
    await go(page, "Car");
    await unfold(page);
    const rows = await page.locator("table.orders tbody tr").allInnerTexts();
    ctx.equal(rows.length, 9, "versions");
    // 1 Ω is the lowest load the demo's amplifier stands, and its most power.
    ctx.check(/^1 Ω/.test(rows[0]) && /700|643/.test(rows[0].replaceAll("\u00a0", " ")), `first: ${rows[0]}`);
    const least = await page.locator("#least").innerText();
    ctx.check(numbers(least)[0] >= 3.6 && /allows for 0\.80/.test(least), least);
    ctx.equal(await page.locator("#least .note.good").count(), 1, "good");
    ctx.check(await field(page, "Output resistance").isVisible(), "the amplifier's own resistance can be entered");
  },
};
