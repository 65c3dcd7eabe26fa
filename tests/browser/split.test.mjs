// The program comes in two parts (.ci/split.mjs): what the first result needs, and the rest right after it.
import { AFTERWARDS, BUDGET_BYTES } from "../../.ci/site.mjs";
import { chartsDrawn } from "../../.ci/profile.mjs";

const REST = /^later-.*\.wasm$/;

/** More often than any test lasts for. */
const ALWAYS = 1_000;

const restServed = (site) => site.served.filter(({ path, status }) => REST.test(path) && status === 200);

/** Waits until the rest is there or was tried in vain. */
const whole = (page) => page.evaluate(() => window.kc.whole.then(() => undefined));

/** Lets the first `times` requests in the background for the rest fail, or wait for ever. */
const keepRestBack = ({ times, wait }) => {
  const { fetch } = window;
  let left = times;
  window.askedForRest = 0;
  window.fetch = (address, ...options) => {
    if (!/later-.*\.wasm$/.test(String(address))) return fetch(address, ...options);
    window.askedForRest += 1;
    left -= 1;
    if (left < 0) return fetch(address, ...options);
    return wait ? new Promise(() => {}) : Promise.reject(new TypeError("kept back by the test"));
  };
};

/** Whether the page stands and every chart in sight has been drawn. */
const sightDrawn = () => {
  const seen = [...document.querySelectorAll("canvas")].filter((canvas) => {
    const { top, bottom } = canvas.getBoundingClientRect();
    return bottom > 0 && top < window.innerHeight;
  });
  const drawn = (canvas) =>
    canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data.some((value) => value !== 0);
  return document.querySelector("main") !== null && seen.every(drawn);
};

/** Opens the page with the rest kept back, on a profile of its own. */
async function openWithout(ctx, kept) {
  const site = await ctx.site();
  const profile = await ctx.profile();
  await profile.addInitScript(keepRestBack, kept);
  const page = await ctx.page(profile);
  await page.goto(site.url);
  await ctx.running(page);
  await page.waitForFunction(chartsDrawn);
  return { site, page };
}

const goToSaw = (page) => page.locator("nav").getByRole("button", { name: "Saw" }).click();

export default {
  "the first result comes within the budget, the rest after it": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      const site = await ctx.site();
      const profile = await ctx.profile(device);
      // Notes for each request whether the charts in sight were drawn by then; those out of sight follow.
      await profile.addInitScript(`
        const chartsDrawn = ${sightDrawn};
        const { fetch } = window;
        window.asked = [];
        window.fetch = (address, ...options) => {
          window.asked.push([String(address), document.body !== null && chartsDrawn()]);
          return fetch(address, ...options);
        };`);
      const page = await ctx.page(profile);
      await page.goto(site.url);
      await ctx.running(page);
      await ctx.keptOffline(page);
      const asked = await page.evaluate(() => window.asked);
      const rest = asked.filter(([address]) => REST.test(address.split("/").pop()));
      ctx.equal(rest.map(([, drawn]) => drawn), [true], "charts drawn when the page asked for the rest");
      // The styles of other screens are asked for in the same breath.
      const first = site.served.findIndex(({ path }) => AFTERWARDS.test(path) && !path.endsWith(".css"));
      ctx.check(REST.test(site.served[first]?.path), `${site.served[first]?.path} was asked for before the rest`);
      const before = site.served.slice(0, first).filter(({ path }) => !AFTERWARDS.test(path));
      const bytes = before.reduce((sum, answer) => sum + answer.bytes, 0);
      ctx.check(bytes > 10_000 && bytes <= BUDGET_BYTES, `${bytes} bytes before the first result`);
      ctx.equal(restServed(site).length, 1, "times the rest was served");
    }
  },

  "what is needed before the rest has come is loaded at once": async (ctx) => {
    const { site, page } = await openWithout(ctx, { times: ALWAYS, wait: true });
    ctx.equal(restServed(site).length, 0, "times the rest was served before");
    await goToSaw(page);
    await page.locator(".saw h1").waitFor();
    ctx.equal(restServed(site).length, 1, "times the rest was served");
  },

  "a tap while the rest is on its way waits for it": async (ctx) => {
    const site = await ctx.site();
    site.delay = (path) => (REST.test(path) ? 1_500 : 0);
    const page = await ctx.page(await ctx.profile());
    const asked = page.waitForRequest((request) => REST.test(request.url().split("/").pop()));
    await page.goto(site.url);
    await asked;
    await goToSaw(page);
    await page.locator(".saw h1").waitFor();
    await whole(page);
    await page.locator("nav").getByRole("button", { name: "Car" }).click();
    await page.locator(".car h1").waitFor();
    ctx.equal(restServed(site).length, 1, "times the rest was served");
  },

  "the rest is asked for again until it comes": async (ctx) => {
    const { site, page } = await openWithout(ctx, { times: 1, wait: false });
    await page.waitForFunction(() => window.askedForRest === 2);
    await ctx.keptOffline(page);
    ctx.equal(restServed(site).length, 1, "times the rest was served");
    await site.stop();
    await goToSaw(page);
    await page.locator(".saw h1").waitFor();
  },

  "without the rest and without a network the page says so": async (ctx) => {
    const { site, page } = await openWithout(ctx, { times: ALWAYS, wait: true });
    await site.stop();
    await goToSaw(page);
    await page.getByRole("heading", { name: "The page has stopped" }).waitFor();
    ctx.check((await page.locator("pre").textContent()).includes("could not be loaded"), "the reason is shown");
    ctx.check(ctx.takeErrors().length > 0, "the reason is on the console");
  },

  "a link brings the rest along before the start": async (ctx) => {
    const site = await ctx.site();
    const page = await ctx.page(await ctx.profile());
    const asked = [];
    page.on("request", (request) => asked.push(request.resourceType()));
    await page.goto(`${site.url}#d=1.damaged`);
    await ctx.running(page);
    await page.locator(".message").waitFor();
    ctx.check(!asked.includes("xhr"), "the program had to wait for the rest");
    await whole(page);
    ctx.equal(restServed(site).length, 1, "times the rest was served");
  },
};
