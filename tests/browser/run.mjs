// Browser tests on the built page: `node tests/browser/run.mjs [PART OF A TEST'S NAME]…`.
// Every file `*.test.mjs` beside this one exports a map from a test's name to `async (ctx) => {}`.
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { Site } from "../../.ci/serve.mjs";

const HERE = dirname(fileURLToPath(import.meta.url));
const ROOT = join(HERE, "../..");
const tool = createRequire(join(ROOT, ".tools/"));
const { chromium } = tool("playwright-core");

/** Longest time for one test, in milliseconds. */
const LIMIT_MS = 150_000;
/** As many failed tests are run once more. */
const MOST_UNSURE = 3;
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };
const LAPTOP = { viewport: { width: 1366, height: 768 }, deviceScaleFactor: 1 };
const FLAGS = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

/** What a test gets: fresh browser profiles, servers that count, and checks that say what was wrong. */
class Context {
  constructor(browser) {
    this.browser = browser;
    this.PHONE = PHONE;
    this.LAPTOP = LAPTOP;
    this.closing = [];
    this.errors = [];
  }

  /** A server of the built page under a path of its own; closed after the test. */
  async site(options = {}) {
    const site = new Site(join(ROOT, "dist"), { base: "/some/where/", ...options });
    await site.start(0);
    this.closing.push(() => site.server.listening && site.stop());
    return site;
  }

  /** A fresh profile; `device` is `PHONE` (unless told otherwise) or `LAPTOP`, with Playwright's other options. */
  async profile(device = PHONE) {
    const profile = await this.browser.newContext({ serviceWorkers: "allow", ...device });
    profile.setDefaultTimeout(15_000);
    this.closing.push(() => profile.close());
    return profile;
  }

  /** A page whose console errors and uncaught errors end up in `errors` and fail the test. */
  async page(profile) {
    const page = await profile.newPage();
    // The texts of what is out of sight are read too; the browser would skip them (content-visibility).
    await page.addInitScript(() => {
      const shown = new CSSStyleSheet();
      shown.replaceSync(".sheet, .chart, .folded { content-visibility: visible !important; }");
      document.adoptedStyleSheets = [shown];
    });
    page.on("console", (message) => message.type() === "error" && this.errors.push(message.text()));
    page.on("pageerror", (error) => this.errors.push(String(error)));
    return page;
  }

  /** Opens the built page in a fresh profile and waits until it runs: `{ site, profile, page }`. */
  async open({ device = PHONE, path = "", init, site } = {}) {
    const served = site ?? (await this.site());
    const profile = await this.profile(device);
    if (init) await profile.addInitScript(init);
    const page = await this.page(profile);
    await page.goto(served.url + path);
    await this.running(page);
    return { site: served, profile, page };
  }

  /** Waits until the program has rendered. */
  async running(page) {
    await page.waitForSelector("#app h1");
    await page.waitForFunction(() => window.kc?.running);
  }

  /** Waits until the page is kept for use without a network. */
  async keptOffline(page) {
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  }

  /** axe-core's violations on the page as readable lines; its source is evaluated, as the policy forbids a script tag. */
  async axe(page) {
    if (!(await page.evaluate(() => Boolean(window.axe)))) {
      await page.evaluate(readFileSync(tool.resolve("axe-core/axe.min.js"), "utf8"));
    }
    const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
    return found.violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${rule.help}: ${node.html}`));
  }

  /** Takes back the errors so far, which the test expected. */
  takeErrors() {
    return this.errors.splice(0);
  }

  check(holds, what) {
    if (!holds) throw new Error(what);
  }

  equal(found, expected, what) {
    const [a, b] = [JSON.stringify(found), JSON.stringify(expected)];
    if (a !== b) throw new Error(`${what}: found ${a}, expected ${b}`);
  }

  async close() {
    for (const close of this.closing.reverse()) await close();
  }
}

async function run(browser, test) {
  const ctx = new Context(browser);
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(`not done after ${LIMIT_MS} ms`)), LIMIT_MS);
  });
  try {
    await Promise.race([test(ctx), late]);
    if (ctx.errors.length) throw new Error(`errors on the console:\n  ${ctx.errors.join("\n  ")}`);
  } finally {
    clearTimeout(timer);
    await ctx.close().catch(() => {});
  }
}

const wanted = process.argv.slice(2);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
const failures = [];
let passed = 0;

/** Runs a test and says how it went; whether it passed. */
async function passes({ title, test }, sign) {
  const start = performance.now();
  try {
    await run(browser, test);
    passed += 1;
    console.log(`${sign} ${title} (${Math.round(performance.now() - start)} ms)`);
    return true;
  } catch (error) {
    console.log(`FAIL  ${title}\n      ${error.stack?.replaceAll("\n", "\n      ") ?? error}`);
    return false;
  }
}

for (const file of readdirSync(HERE).filter((name) => name.endsWith(".test.mjs")).sort()) {
  const { default: tests } = await import(pathToFileURL(join(HERE, file)).href);
  for (const [name, test] of Object.entries(tests)) {
    const title = `${file.replace(".test.mjs", "")}: ${name}`;
    if (wanted.length && !wanted.some((part) => title.includes(part))) continue;
    if (!(await passes({ title, test }, "ok   "))) failures.push({ title, test });
  }
}
// A busy machine may be late for one test: what failed is run once more, and stays in the list as unsure if it then passes.
// More than a few are no accident.
const again = failures.length > MOST_UNSURE ? [] : failures.splice(0);
const unsure = [];
for (const one of again) {
  if (await passes(one, "again")) unsure.push(one.title);
  else failures.push(one);
}
await browser.close();
for (const title of unsure) console.log(`unsure: ${title} failed first and passed when it was run once more`);
console.log(`${passed} passed, ${failures.length} failed`);
process.exitCode = failures.length || !passed ? 1 : 0;
