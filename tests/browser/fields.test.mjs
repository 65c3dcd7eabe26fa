// What is odd in every field of every kind of enclosure: nothing breaks, nothing shows a number that is none.
import { choose, go, typeAll, unfold } from "./page.mjs";

const ODD = ["", "0", "-3", "1e9", "1,5", "abc", "9".repeat(400), "1/0", "∞ mm"];
const KINDS = [
  "closed", "vented", "infinite baffle", "passive radiator", "band-pass, rear closed",
  "band-pass, both vented outward", "band-pass, rear vented into front", "push-pull pair, closed",
];

/** An invented radiator, so that its kind comes to curves and boards too. */
const RADIATOR = [
  ["Radiator area, each", "250"], ["Radiator moving mass, each", "300"], ["Radiator resonance", "16"],
  ["Radiator cut-out diameter", "185"], ["Radiator outside diameter", "210"], ["Radiator depth, with its travel", "80"],
];

/**
 * Types every odd text into every visible number field of `main`, one after the other, and puts back what stood there.
 * Runs in the page, so that it takes a moment and not minutes; each text is followed by a turn of the scheduler and,
 * at the end of a field, by a frame.
 */
const walk = async (odd) => {
  const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
  const put = (input, text) => {
    set.call(input, text);
    input.dispatchEvent(new InputEvent("input", { bubbles: true }));
  };
  const turn = () => new Promise((done) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = done;
    channel.port2.postMessage(0);
  });
  const wrong = [];
  const names = [...document.querySelectorAll("main .row:not(.text) input")].map((input) => input.id);
  for (const id of names) {
    const input = document.getElementById(id);
    if (!input) continue;
    const before = input.value;
    for (const text of odd) {
      if (!document.getElementById(id)) break;
      put(document.getElementById(id), text);
      await turn();
      await turn();
      const here = document.getElementById(id);
      if (!here) { wrong.push(`${id}: gone after ${text.slice(0, 12)}`); break; }
      const main = document.querySelector("main").innerText;
      const bad = /\b(NaN|undefined|-?Infinity|panicked)\b|-?\binf\b/.exec(main);
      if (bad) wrong.push(`${id} = ${text.slice(0, 12)}: ${bad[0]} in …${main.slice(Math.max(0, bad.index - 60), bad.index + 30)}…`);
      const told = here.getAttribute("aria-invalid") === "true";
      if (!told && ["abc", "∞ mm", "1/0"].includes(text)) wrong.push(`${id} says nothing about ${text}`);
      if (here.value !== text) wrong.push(`${id} shows ${here.value.slice(0, 12)} for ${text.slice(0, 12)}`);
    }
    const last = document.getElementById(id);
    if (last) put(last, before);
    await turn();
  }
  await new Promise((done) => requestAnimationFrame(done));
  return { wrong, fields: names.length };
};

const tests = {};
for (const place of ["Desk", "Saw"]) {
  tests[`odd entries in every field of every kind, ${place}`] = async (ctx) => {
    const { page } = await ctx.open({ device: ctx.LAPTOP });
    for (const kind of KINDS) {
      if (kind.startsWith("push-pull")) await choose(page, "Drivers in the box", "2");
      await choose(page, "Type", kind);
      if (kind === "passive radiator") {
        await unfold(page);
        await typeAll(page, RADIATOR);
      }
      await go(page, place);
      await unfold(page);
      const started = performance.now();
      const { wrong, fields } = await page.evaluate(walk, ODD);
      ctx.check(fields > 25, `${kind}: only ${fields} fields seen`);
      ctx.equal(wrong.slice(0, 6), [], `${kind} at the ${place}`);
      console.log(`      ${place}, ${kind}: ${fields} fields in ${Math.round(performance.now() - started)} ms`);
      await go(page, "Desk");
    }
  };
}
export default tests;
