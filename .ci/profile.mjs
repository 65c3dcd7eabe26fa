// Which functions the program needs for its first result: runs an instrumented copy of it in a browser.
import { createRequire } from "node:module";
import { Site } from "./serve.mjs";

const { chromium } = createRequire(new URL("../.tools/", import.meta.url))("playwright-core");
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };
const LAPTOP = { viewport: { width: 1366, height: 768 }, deviceScaleFactor: 1, colorScheme: "dark" };
const LIMIT_MS = 60_000;
/** Longer than the page waits before it saves (src/view/saving.rs). */
const SAVED_MS = 1_000;

/** Remembers the program's exports, which the page itself keeps to itself. */
const keepExports = () => {
  const instantiate = WebAssembly.instantiate;
  WebAssembly.instantiate = async (...given) => {
    const made = await instantiate(...given);
    // The program comes first; its rest may follow.
    window.exported ??= (made.instance ?? made).exports;
    return made;
  };
};

/** Whether every chart has been drawn. */
export const chartsDrawn = () => {
  const charts = [...document.querySelectorAll("canvas")];
  const drawn = (canvas) =>
    canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data.some((value) => value !== 0);
  return charts.length > 0 && charts.every(drawn);
};

/** The profile as numbers, written behind the program's own memory. */
const writtenProfile = () => {
  const { memory, __write_profile: write } = window.exported;
  const length = write(0, 0);
  const start = memory.grow(Math.ceil(length / 65_536)) * 65_536;
  write(start, length);
  return [...new Uint8Array(memory.buffer, start, length)];
};

async function run(page, open) {
  await open();
  await page.waitForFunction(() => window.kc?.running, undefined, { timeout: LIMIT_MS });
  await page.waitForFunction(chartsDrawn, undefined, { timeout: LIMIT_MS });
  await page.waitForTimeout(SAVED_MS);
  return Buffer.from(await page.evaluate(writtenProfile));
}

/**
 * The profiles of a first visit and of a return, on a phone by day and on a laptop by night.
 *
 * `dir` holds the page; `replaced` maps a file's name to other contents, such as the instrumented program.
 */
export async function profiles(dir, replaced) {
  const site = new Site(dir);
  for (const [name, contents] of replaced) site.replace.set(name, contents);
  await site.start(0);
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"],
  });
  try {
    const found = [];
    for (const device of [PHONE, LAPTOP]) {
      // Without the service worker, whose list of files is not there yet.
      const context = await browser.newContext({ ...device, serviceWorkers: "block" });
      await context.addInitScript(keepExports);
      const page = await context.newPage();
      found.push(await run(page, () => page.goto(site.url)));
      // A return finds a design that was worked on and saved.
      await page.locator("#main input[inputmode=decimal]").first().fill("30");
      await page.waitForTimeout(SAVED_MS);
      found.push(await run(page, () => page.reload()));
      await context.close();
    }
    return found;
  } finally {
    await browser.close();
    await site.stop();
  }
}
