// The sweep through a microphone that a WAV file stands in for: a known filter comes back, and trouble is told.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { choose, go, type } from "./page.mjs";

const { chromium } = createRequire(join(dirname(fileURLToPath(import.meta.url)), "../../.tools/"))("playwright-core");
const RATE = 44_100; // the fake device's own
const LEVEL = 0.5;
const trials = (page) => page.locator("#trials");

/** Synchronised exponential sweep 15-300 Hz (Novak et al., JAES 63 (2015) 786), faded over 100 and 20 ms. */
function sweep(seconds) {
  const growth = Math.round((15 * seconds) / Math.log(20)) / 15;
  const length = growth * Math.log(20);
  const cosine = (share) => 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, Math.max(0, share)));
  return Float64Array.from({ length: Math.round(length * RATE) }, (_, n) => {
    const t = n / RATE;
    return cosine(t / 0.1) * cosine((length - t) / 0.02) * Math.sin(2 * Math.PI * 15 * growth * Math.exp(t / growth));
  });
}

/** +6 dB at 45 Hz, Q 3: a peaking section (bilinear transform of (s² + sA/Q + 1)/(s² + s/(AQ) + 1)). */
function section() {
  const [a, w] = [10 ** (6 / 40), (2 * Math.PI * 45) / RATE];
  const [alpha, c] = [Math.sin(w) / 6, Math.cos(w)];
  const d = 1 + alpha / a;
  return { b: [(1 + alpha * a) / d, (-2 * c) / d, (1 - alpha * a) / d], a: [1, (-2 * c) / d, (1 - alpha / a) / d] };
}

function filtered(x) {
  const { b, a } = section();
  let [s1, s2] = [0, 0];
  return x.map((v) => {
    const y = b[0] * v + s1;
    s1 = b[1] * v - a[1] * y + s2;
    s2 = b[2] * v - a[2] * y;
    return y;
  });
}

/** The filter's level at the 40 points: power over a sixth-octave, even weight over log f. */
function truth() {
  const { b, a } = section();
  const power = (hz) => {
    const w = (2 * Math.PI * hz) / RATE;
    const at = (k) => (k[0] + k[1] * Math.cos(w) + k[2] * Math.cos(2 * w)) ** 2 + (k[1] * Math.sin(w) + k[2] * Math.sin(2 * w)) ** 2;
    return at(b) / at(a);
  };
  const G = 10 ** 0.3;
  const points = Array.from({ length: 69 }, (_, i) => 1000 * G ** ((2 * (i - 69) + 1) / 24)).filter((hz) => hz >= 20 && hz <= 200);
  return points.map((hz) => {
    const steps = Array.from({ length: 400 }, (_, i) => power(hz * G ** ((i + 0.5) / 2400 - 1 / 12)));
    return 10 * Math.log10(steps.reduce((sum, p) => sum + p, 0) / 400);
  });
}

/** What the microphone hears: silence, three sweeps at 0, −6 and 0 dB, each 1 s behind the last. */
function wav() {
  const once = sweep(5);
  const period = Math.round((once.length / RATE + 1) * RATE);
  const x = new Float64Array(Math.round(7 * RATE) + 3 * period + 50 * RATE);
  [1, 0.5, 1].forEach((step, k) => once.forEach((v, n) => (x[Math.round(7 * RATE) + k * period + n] = 0.5 * step * v)));
  const y = filtered(x);
  const data = Buffer.alloc(44 + 2 * y.length);
  data.write("RIFF", 0);
  data.writeUInt32LE(36 + 2 * y.length, 4);
  data.write("WAVEfmt ", 8);
  data.writeUInt32LE(16, 16);
  [1, 1].forEach((v, i) => data.writeUInt16LE(v, 20 + 2 * i));
  data.writeUInt32LE(RATE, 24);
  data.writeUInt32LE(2 * RATE, 28);
  [2, 16].forEach((v, i) => data.writeUInt16LE(v, 32 + 2 * i));
  data.write("data", 36);
  data.writeUInt32LE(2 * y.length, 40);
  y.forEach((v, n) => data.writeInt16LE(Math.round(32767 * LEVEL * v), 44 + 2 * n));
  return data;
}

/** A browser of its own, since the microphone's file is fixed for its life. */
async function withMicrophone(ctx, flags, init, use) {
  const folder = mkdtempSync(join(tmpdir(), "sweep-"));
  const file = join(folder, "microphone.wav");
  writeFileSync(file, wav());
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", ...flags.map((flag) => flag.replace("WAV", file))],
  });
  try {
    const profile = await browser.newContext({ ...ctx.PHONE });
    if (init) await profile.addInitScript(init);
    const page = await ctx.page(profile);
    await page.goto((await ctx.site()).url);
    await ctx.running(page);
    await go(page, "Car");
    await trials(page).getByRole("button", { name: "Trials with a test box" }).click();
    await choose(page, "Factory noise cancelling in the cabin", "none in this vehicle");
    await choose(page, "Levels from", "a sweep and this phone");
    await choose(page, "Each sweep lasts", "5 s");
    await use(page);
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
}

const FAKE = [
  "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", "--use-file-for-fake-audio-capture=WAV",
];
/** Stands in for the lock that keeps a screen on, and notes what is asked of it. */
const awake = () => {
  window.awake = [];
  Object.defineProperty(navigator, "wakeLock", {
    value: {
      request: async (kind) => {
        window.awake.push(kind);
        return { release: async () => void window.awake.push("released") };
      },
    },
  });
};
const start = (page) => trials(page).getByRole("button", { name: "Start listening" }).tap();
const told = async (page, words) => {
  await trials(page).locator(".sweep .note", { hasText: words }).waitFor({ timeout: 90_000 });
};

/** The trials of the open design as they lie in storage. */
const stored = (page) => page.evaluate(() => {
  const record = localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`) ?? '{"design":{}}';
  return JSON.stringify(JSON.parse(record).design.trials ?? []);
});

/** Keeps an earlier trial by tones, then begins one by sweep at the next spot; gives back what lies in storage. */
async function earlier(page) {
  await choose(page, "Levels from", "tones and a meter");
  await type(page, "Spot", "left corner");
  for (const hz of ["25", "31.5", "40", "50", "63", "80"]) await trials(page).getByLabel(`${hz} Hz`, { exact: true }).fill("84");
  await trials(page).getByRole("button", { name: "Keep this trial" }).tap();
  await page.waitForFunction(() =>
    (localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`) ?? "").includes("left corner"));
  await choose(page, "Levels from", "a sweep and this phone");
  await type(page, "Spot", "behind seat");
  return stored(page);
}

/** The earlier trial is shown and stored as before, the spot typed since stands, and another start can be made. */
async function unharmed(ctx, page, before) {
  ctx.equal(await trials(page).locator(".trial-list li").count(), 1, "trials listed");
  ctx.check(before.includes("left corner"), "an earlier trial lay in storage");
  ctx.equal(await stored(page), before, "trials in storage");
  ctx.equal(await trials(page).getByLabel("Spot", { exact: true }).inputValue(), "behind seat", "the spot typed");
  ctx.check(await trials(page).getByRole("button", { name: "Start listening" }).isVisible(), "another start");
}

export default {
  "a trial by sweep ends within 0.3 dB of the known filter": (ctx) =>
    withMicrophone(ctx, FAKE, awake, async (page) => {
      await type(page, "Spot", "left corner");
      ctx.equal(await page.evaluate(() => window.awake), [], "asked to stay awake before a run");
      await start(page);
      const stop = trials(page).getByRole("button", { name: "Stop" });
      await stop.waitFor();
      const box = await stop.boundingBox();
      ctx.check(box.height >= 88 && box.width > 300 && box.y > 0 && box.y + box.height <= 844, `stop key ${JSON.stringify(box)}`);
      ctx.equal(await ctx.axe(page), [], "axe while listening");
      await page.waitForFunction(() => window.awake.includes("screen"));
      ctx.equal(await page.evaluate(() => window.awake), ["screen"], "kept awake while listening");
      if (process.env.SHOTS) await page.screenshot({ path: join(process.env.SHOTS, "listening.png") });
      await told(page, "Three takes");
      if (process.env.SHOTS) await page.screenshot({ path: join(process.env.SHOTS, "heard.png") });
      await trials(page).getByRole("button", { name: "Keep this trial" }).tap();
      await page.waitForFunction(() =>
        (localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`) ?? "").includes("left corner"));
      const record = await page.evaluate(() => localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`));
      const design = JSON.parse(record).design;
      const trial = (typeof design === "string" ? JSON.parse(design) : design).trials[0];
      const expected = truth().map((db) => db + 20 * Math.log10(0.5 * LEVEL));
      const levels = trial.level.split(" ").map(Number);
      ctx.equal([levels.length, trial.takes, trial.by], [40, 3, "sweep"], "what is kept");
      ctx.equal(await page.evaluate(() => window.awake), ["screen", "released"], "let go after the run");
      // The three takes and the recording lie on this device; a take left out changes mean and spread.
      const kept = trials(page).locator(".trial-list li");
      await kept.getByText("Takes that count").waitFor();
      ctx.equal(await kept.locator("fieldset input[type=checkbox]").count(), 3, "takes");
      const saving = page.waitForEvent("download");
      await kept.getByRole("button", { name: "Save the recording" }).tap();
      const { readFileSync } = await import("node:fs");
      const raw = readFileSync(await (await saving).path());
      // 26 s are played and 15 s more are listened for, at 1.2 kHz or a little more.
      const rate = raw.readUInt32LE(24);
      ctx.check(rate >= 1200 && rate < 1300 && Math.abs((raw.length - 44) / 2 / rate - 41) < 2, `${raw.length} bytes at ${rate} Hz`);
      await kept.locator("fieldset label").nth(1).tap();
      await kept.getByText("2 takes").waitFor();
      await page.waitForFunction(() =>
        (localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`) ?? "").includes('"takes":2'));
      await kept.locator("fieldset label").nth(1).tap();
      await kept.getByText("3 takes").waitFor();
      if (process.env.SHOTS) await page.screenshot({ path: join(process.env.SHOTS, "takes.png") });
      // One meter reading of the 50 Hz tone anchors the level: C takes 1.3 dB off there (IEC 61672-1).
      await trials(page).getByRole("button", { name: "The microphone's curve and level" }).tap();
      const tone = page.waitForEvent("download");
      await trials(page).getByRole("button", { name: "Save the 50 Hz tone" }).tap();
      const wave = readFileSync(await (await tone).path());
      ctx.equal([wave.toString("latin1", 0, 4), wave.readUInt32LE(24)], ["RIFF", 48_000], "the tone's head");
      const read = trials(page).getByLabel("The meter reads", { exact: true });
      await read.fill("85 dB?");
      ctx.check(/Not a level/.test(await trials(page).innerText()), "a reading that is none");
      await read.fill("96");
      ctx.check(/above 95 dB/.test(await trials(page).innerText()), "a reading over 95 dB");
      await read.fill("85");
      await trials(page).getByRole("button", { name: "Anchor with this reading" }).tap();
      const G = 10 ** 0.3;
      const points = Array.from({ length: 69 }, (_, i) => 1000 * G ** ((2 * (i - 69) + 1) / 24)).filter((hz) => hz >= 20 && hz <= 200);
      const above = points.findIndex((hz) => hz >= 50);
      const share = Math.log(50 / points[above - 1]) / Math.log(points[above] / points[above - 1]);
      const at50 = expected[above - 1] + share * (expected[above] - expected[above - 1]);
      await page.waitForFunction(() =>
        (localStorage.getItem(`kc.design.${localStorage.getItem("kc.open")}`) ?? "").includes("full scale"));
      const anchor = Number(await trials(page).getByLabel("0 dB of a sweep is, dB at the ear").inputValue());
      console.log(`      0 dB stands for ${anchor} dB, expected ${(85 + 1.3 - at50).toFixed(2)} dB`);
      ctx.check(Math.abs(anchor - (85 + 1.3 - at50)) <= 0.4, `anchored at ${anchor} dB`);
      const worst = Math.max(...levels.map((db, k) => Math.abs(db - expected[k])));
      console.log(`      worst point ${worst.toFixed(3)} dB off, levels kept in steps of 0.5 dB`);
      ctx.check(worst <= 0.3, `${worst} dB off: ${levels} for ${expected.map((db) => db.toFixed(2))}`);
    }),

  "a sweep on a hidden page, a stop, and a hands-free rate are told, and the earlier trial stays": async (ctx) => {
    await withMicrophone(ctx, FAKE, undefined, async (page) => {
      const before = await earlier(page);
      await start(page);
      await trials(page).getByText(/Listening: [1-9]/).waitFor();
      await trials(page).getByRole("button", { name: "Stop" }).tap();
      await told(page, "Stopped.");
      await unharmed(ctx, page, before);
      await start(page);
      await trials(page).getByText(/Listening: [1-9]/).waitFor();
      await page.evaluate(() => {
        Object.defineProperty(document, "visibilityState", { value: "hidden", configurable: true });
        document.dispatchEvent(new Event("visibilitychange"));
      });
      await told(page, "The page was hidden");
      await unharmed(ctx, page, before);
    });
    const slow = () => Object.defineProperty(BaseAudioContext.prototype, "sampleRate", { get: () => 16_000 });
    await withMicrophone(ctx, FAKE, slow, async (page) => {
      const before = await earlier(page);
      await start(page);
      await told(page, "only 16.0 kHz");
      await unharmed(ctx, page, before);
    });
  },

  "a sweep whose microphone goes, is muted, changes or is held up is told, and the earlier trial stays": async (ctx) => {
    // Keeps hold of what the page opens, so that the browser's events can be made.
    const hold = () => {
      const get = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      navigator.mediaDevices.getUserMedia = async (wanted) => {
        const stream = await get(wanted);
        window.track = stream.getAudioTracks()[0];
        return stream;
      };
      window.AudioContext = class extends window.AudioContext {
        constructor(...given) {
          super(...given);
          window.sound = this;
        }
      };
    };
    await withMicrophone(ctx, FAKE, hold, async (page) => {
      const before = await earlier(page);
      for (const [happens, words] of [
        [() => window.track.dispatchEvent(new Event("ended")), "The microphone went away"],
        [() => window.track.dispatchEvent(new Event("mute")), "The microphone went away"],
        [() => window.sound.suspend(), "The microphone went away"],
        [() => navigator.mediaDevices.dispatchEvent(new Event("devicechange")), "plugged in or taken out"],
      ]) {
        await start(page);
        await trials(page).getByText(/Listening: [1-9]/).waitFor();
        await page.evaluate(happens);
        await told(page, words);
        await unharmed(ctx, page, before);
        ctx.equal(await page.evaluate(() => window.track.readyState), "ended", `the microphone is let go: ${happens}`);
      }
      // Before the first sample as well.
      await start(page);
      await page.waitForFunction(() => window.track.readyState === "live");
      await page.evaluate(() => window.track.dispatchEvent(new Event("ended")));
      await told(page, "The microphone went away");
      await unharmed(ctx, page, before);
    });
  },

  "a sweep without a microphone or without leave for it is told, and the earlier trial stays": async (ctx) => {
    await withMicrophone(ctx, ["--deny-permission-prompts", "--use-fake-device-for-media-stream"], undefined, async (page) => {
      const before = await earlier(page);
      await start(page);
      await told(page, "was refused");
      await unharmed(ctx, page, before);
    });
    await withMicrophone(ctx, ["--use-fake-ui-for-media-stream"], undefined, async (page) => {
      const before = await earlier(page);
      await start(page);
      await told(page, "No microphone was found");
      await unharmed(ctx, page, before);
    });
  },

  "the sweep file is a WAV of its length": async (ctx) => {
    await withMicrophone(ctx, FAKE, undefined, async (page) => {
      const saved = page.waitForEvent("download");
      await trials(page).getByRole("button", { name: "Save the sweep file" }).tap();
      const download = await saved;
      ctx.equal(download.suggestedFilename(), "sweep-5s.wav", "name");
      const { readFileSync } = await import("node:fs");
      const bytes = readFileSync(await download.path());
      ctx.equal([bytes.toString("latin1", 0, 4), bytes.readUInt32LE(24), bytes.readUInt16LE(34)], ["RIFF", 48_000, 16], "head");
      // 8 s before the first sweep, three sweeps of 5 s, each with a second behind it.
      const seconds = (bytes.length - 44) / 96_000;
      ctx.check(Math.abs(seconds - 26) < 0.3, `${seconds} s`);
    });
  },
};
