// Find a box, and slack: in a worker beside the page, stopped, taken, without a network, and without a worker.
import { field, figure, figures, near, number, type } from "./page.mjs";

const open = (page, title) => page.locator(".foldkey", { hasText: title }).click();
const find = (page) => page.locator(".find");
const run = (page, name = "Look for boxes") => find(page).getByRole("button", { name, exact: true }).click();
const boxes = (page) => find(page).locator("ol.boxes li");

/** Counts the workers that the page starts, and the longest time the page did not listen. */
const watch = () => {
  window.workers = 0;
  window.ended = 0;
  const { Worker } = window;
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      window.workers += 1;
    }
    postMessage(message) {
      // Requests are texts; one that is held back is never answered.
      if (window.held && typeof message === "string") return;
      super.postMessage(message);
    }
    terminate() {
      window.ended += 1;
      super.terminate();
    }
  };
  window.longest = 0;
  let last = performance.now();
  setInterval(() => {
    const now = performance.now();
    window.longest = Math.max(window.longest, now - last);
    last = now;
  }, 4);
};

const noWorker = () => {
  window.Worker = class {
    constructor() {
      throw new Error("refused by the test");
    }
  };
};

/** A worker that never says a word. */
const deafWorker = () => {
  window.Worker = class extends EventTarget {
    postMessage() {}
    terminate() {}
  };
};

async function searched(ctx, page) {
  await run(page);
  await boxes(page).first().waitFor();
  ctx.check((await boxes(page).count()) >= 2, "two boxes at least");
}

/** Boxes found on a device, one of them taken and given back. */
const takenOn = (device) => async (ctx) => {
  const { page } = await ctx.open({ device: ctx[device], init: watch });
  const before = await figures(page);
  await open(page, "Find a box");
  await searched(ctx, page);
  ctx.equal(await page.evaluate(() => window.workers), 1, "workers started");
  const vented = boxes(page).filter({ hasText: "Vented" }).first();
  const litres = number((await vented.locator("h4").innerText()).split(",")[1]);
  const tuned = number((await vented.innerText()).split("tuned to ")[1]);
  await vented.getByRole("button").click();
  near(ctx, await figure(page, "net"), litres, 0.05 * litres, "net volume taken");
  near(ctx, await figure(page, "fb"), tuned, 1 + 0.05 * tuned, "tuning taken");
  ctx.equal(await page.locator(".note.stop").count(), 0, "notes that stop the build");
  ctx.equal(await ctx.axe(page), [], "axe with boxes found");
  await page.locator("header.title").getByRole("button", { name: "Undo" }).click();
  ctx.equal(await figures(page), before, "figures after undo");
};

export default {
  "boxes are found in a worker and one is taken in one step, phone": takenOn("PHONE"),
  "boxes are found in a worker and one is taken in one step, laptop": takenOn("LAPTOP"),

  "the page listens while the search runs, and stopping ends the worker": async (ctx) => {
    const { page } = await ctx.open({ init: watch });
    await open(page, "Find a box");
    await page.evaluate(() => { window.held = true; });
    await run(page);
    const bar = find(page).getByRole("progressbar");
    await bar.waitFor();
    await find(page).getByRole("button", { name: "Stop looking" }).click();
    await find(page).getByRole("button", { name: "Look for boxes" }).waitFor();
    ctx.equal(await page.evaluate(() => window.ended), 1, "workers ended");
    ctx.equal(await boxes(page).count(), 0, "boxes after stopping");
    await page.evaluate(() => {
      window.held = false;
      window.longest = 0;
    });
    await searched(ctx, page);
    ctx.equal(await page.evaluate(() => window.workers), 2, "workers started");
    console.log(`      the page did not listen for ${Math.round(await page.evaluate(() => window.longest))} ms at most`);
  },

  "the picture is read by tap and by keys, and its box is taken": async (ctx) => {
    const { page } = await ctx.open();
    await open(page, "Find a box");
    await searched(ctx, page);
    const slider = find(page).locator(".trade").getByRole("slider");
    await slider.focus();
    await page.keyboard.press("Home");
    const spoken = [];
    for (let i = 0; i < 4; i += 1) {
      spoken.push(await slider.getAttribute("aria-valuetext"));
      await page.keyboard.press("ArrowRight");
    }
    ctx.equal(new Set(spoken).size, 4, `spoken: ${spoken}`);
    const canvas = find(page).locator(".trade canvas");
    await canvas.scrollIntoViewIfNeeded();
    const box = await canvas.boundingBox();
    const title = find(page).locator(".trade .cursor b");
    await canvas.click({ position: { x: 50, y: box.height / 2 } });
    const small = number((await title.innerText()).split(",")[1]);
    await canvas.click({ position: { x: box.width - 20, y: box.height / 2 } });
    const large = number((await title.innerText()).split(",")[1]);
    ctx.check(large > 2 * small, `tapped at the right: ${large}, at the left: ${small}`);
    await find(page).locator(".trade").getByRole("button", { name: /Take this box/ }).click();
    near(ctx, await figure(page, "net"), large, 0.05 * large, "net volume taken");
  },

  "wishes move what is found": async (ctx) => {
    const { page } = await ctx.open();
    await open(page, "Find a box");
    const set = async (name, value) => {
      const slider = find(page).getByRole("slider", { name: new RegExp(name) });
      await slider.fill(String(value));
    };
    const first = async () => number((await boxes(page).first().locator("h4").innerText()).split(",")[1]);
    await set("takes little room", 10);
    await set("reaches low", 0);
    await searched(ctx, page);
    const small = await first();
    await set("takes little room", 0);
    await set("reaches low", 10);
    await find(page).getByText("The design has changed since").waitFor();
    await run(page, "Look again");
    await find(page).getByText("The design has changed since").waitFor({ state: "detached" });
    await boxes(page).first().waitFor();
    ctx.check((await first()) > 1.5 * small, `large ${await first()}, small ${small}`);
  },

  "without a worker the page searches between frames": async (ctx) => {
    for (const init of [noWorker, deafWorker]) {
      const { page } = await ctx.open({ init });
      await open(page, "Find a box");
      await searched(ctx, page);
    }
  },

  "boxes are found without a network, and the worker was downloaded once": async (ctx) => {
    const { site, page } = await ctx.open();
    await ctx.keptOffline(page);
    await open(page, "Find a box");
    await searched(ctx, page);
    const times = new Map();
    for (const { path, status } of site.served) {
      if (status === 200 && /\.(js|wasm)$/.test(path)) times.set(path, (times.get(path) ?? 0) + 1);
    }
    const worker = [...times.keys()].filter((path) => path.startsWith("worker-"));
    ctx.equal(worker.length, 1, `worker scripts served: ${worker}`);
    ctx.equal([...times.entries()].filter(([, count]) => count !== 1), [], "files served more than once");
    await page.reload();
    await ctx.running(page);
    await site.stop();
    await open(page, "Find a box");
    await searched(ctx, page);
  },

  "bands follow the curves, and go with their fold": async (ctx) => {
    const { page } = await ctx.open({ init: watch });
    const blue = () => page.locator('[data-chart="level"] canvas').evaluate((canvas) => {
      const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
      const colours = new Map();
      for (let i = 0; i < data.length; i += 4) {
        const colour = `${data[i]},${data[i + 1]},${data[i + 2]}`;
        colours.set(colour, (colours.get(colour) ?? 0) + 1);
      }
      // Pale blue, much of it: neither paper nor line.
      return Math.max(0, ...[...colours].filter(([colour]) => {
        const [red, green, blue] = colour.split(",").map(Number);
        return blue > red + 8 && red > 180 && green > 180;
      }).map(([, count]) => count));
    });
    await page.locator('[data-chart="level"]').scrollIntoViewIfNeeded();
    const before = await blue();
    await open(page, "Slack");
    await page.locator('[data-slack="done"]').waitFor();
    await page.waitForTimeout(300);
    ctx.check((await blue()) > before + 500, `pale blue pixels: ${before}, then ${await blue()}`);
    const spreads = await page.locator(".spreads").innerText();
    for (const name of ["net", "Qtc", "−3 dB"]) ctx.check(spreads.includes(name), `${name} in ${spreads}`);
    ctx.check(!/NaN|–/.test(spreads), spreads);
    ctx.equal(await ctx.axe(page), [], "axe with bands");
    // Wider tolerances, wider spreads; the same worker.
    const span = async () => {
      const row = page.locator(".spreads div", { hasText: "Qtc" }).last();
      const [low, high] = (await row.locator("dd").innerText()).match(/\d+\.\d+/g).map(Number);
      return high - low;
    };
    const narrow = await span();
    await type(page, "Qts, more or less", "30");
    await page.waitForFunction((narrow) => {
      const row = [...document.querySelectorAll(".spreads .pairs > div")].find((one) => one.innerText.includes("Qtc"));
      const found = row?.querySelector("dd").innerText.match(/\d+\.\d+/g)?.map(Number);
      return found && found[1] - found[0] > 1.5 * narrow;
    }, narrow);
    ctx.equal(await page.evaluate(() => window.workers), 1, "workers started");
    await open(page, "Slack");
    await page.waitForTimeout(300);
    ctx.check((await blue()) < before + 200, "the band went with the fold");
    ctx.equal(await page.evaluate(() => window.ended), 1, "workers ended");
  },

  "how soon the bands follow a key": async (ctx) => {
    const { page } = await ctx.open({ device: ctx.LAPTOP });
    await open(page, "Slack");
    await page.locator('[data-slack="done"]').waitFor();
    const input = field(page, "Wanted net volume");
    await input.waitFor();
    const times = [];
    for (const litres of ["24", "26", "28", "30", "32"]) {
      times.push(await input.evaluate((element, litres) => new Promise((done) => {
        const start = performance.now();
        let gone = 0;
        const look = () => {
          const there = document.querySelector('[data-slack="done"]');
          if (!there && !gone) gone = performance.now();
          if (there && gone) done([gone - start, performance.now() - start].map(Math.round));
          else requestAnimationFrame(look);
        };
        Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set.call(element, litres);
        element.dispatchEvent(new InputEvent("input", { bubbles: true }));
        requestAnimationFrame(look);
      }), litres));
    }
    console.log(`      ms to the curves without bands, and to the bands: ${JSON.stringify(times)}`);
    ctx.check(times.every(([, there]) => there < 10_000), "bands came");
  },

  "a design without driver or space says what is missing": async (ctx) => {
    const { page } = await ctx.open();
    await page.locator("header.title button").first().click();
    await page.getByRole("button", { name: "New design" }).click();
    await open(page, "Find a box");
    ctx.check(await find(page).getByRole("button", { name: "Look for boxes" }).isDisabled(), "nothing to look for");
    await find(page).locator(".gap").first().waitFor();
  },
};
