// The page as a whole: policy, offline use, downloads, failed starts, blocked storage.
const PANIC = () => window.dispatchEvent(new Event("kc-test-panic"));

/** Hides the local storage, as a browser with blocked cookies does. */
const BLOCK_STORAGE = () => {
  Object.defineProperty(window, "localStorage", {
    get() {
      throw new DOMException("The operation is insecure.", "SecurityError");
    },
  });
};

/** Answers with contents, counted by path. */
const downloads = (site) => {
  const counts = {};
  for (const { path, status } of site.served) if (status === 200) counts[path] = (counts[path] ?? 0) + 1;
  return counts;
};

const cacheNames = (page) => page.evaluate(() => caches.keys());

export default {
  "starts on a phone and a laptop without an error": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      const { page } = await ctx.open({ device });
      ctx.check(await page.locator("h1").first().isVisible(), "a heading is visible");
      ctx.equal(await page.evaluate(() => localStorage.getItem("kc.starts")), null, "failed starts kept");
    }
  },

  "starts at the root of a host too": async (ctx) => {
    await ctx.open({ site: await ctx.site({ base: "/" }) });
  },

  "has no accessibility violation": async (ctx) => {
    for (const device of [ctx.PHONE, ctx.LAPTOP]) {
      for (const colorScheme of ["light", "dark"]) {
        const { page } = await ctx.open({ device: { ...device, colorScheme } });
        ctx.equal(await ctx.axe(page), [], `axe, ${colorScheme}`);
      }
    }
  },

  "asks no other host for anything": async (ctx) => {
    const site = await ctx.site();
    const profile = await ctx.profile();
    const page = await ctx.page(profile);
    const asked = [];
    profile.on("request", (request) => asked.push(request.url()));
    await page.goto(site.url);
    await ctx.running(page);
    await ctx.keptOffline(page);
    ctx.equal(asked.filter((url) => !url.startsWith(site.url)), [], "addresses outside the page's folder");
    ctx.check(asked.length >= 5, `only ${asked.length} requests seen`);
  },

  "the page's own policy forbids evaluated text, inline styles and other hosts": async (ctx) => {
    // Without the header, so that the meta element alone is put to the test.
    const { page } = await ctx.open({ site: await ctx.site({ policyHeader: false }) });
    const broken = await page.evaluate(async () => {
      const broken = [];
      document.addEventListener("securitypolicyviolation", (event) => broken.push(event.effectiveDirective));
      setTimeout("window.evaluated = true", 0);
      const styled = document.createElement("p");
      styled.setAttribute("style", "color: red");
      document.body.append(styled);
      const script = document.createElement("script");
      script.textContent = "window.inlined = true";
      document.body.append(script);
      await fetch("http://localhost:9/").catch(() => {});
      await new Promise((done) => setTimeout(done, 200));
      return { broken: broken.sort(), evaluated: window.evaluated, inlined: window.inlined };
    });
    const expected = ["connect-src", "script-src", "script-src-elem", "style-src-attr"];
    ctx.equal(broken, { broken: expected }, "violations");
    ctx.check(ctx.takeErrors().length >= 4, "violations are on the console");
  },

  "downloads every file once": async (ctx) => {
    const { site, page } = await ctx.open();
    await ctx.keptOffline(page);
    const counts = downloads(site);
    ctx.equal(Object.entries(counts).filter(([, count]) => count > 1), [], "downloaded more than once");
    ctx.equal(site.served.filter(({ status }) => status >= 400), [], "refused");
    const kept = await page.evaluate(async () => (await (await caches.open((await caches.keys())[0])).keys()).length);
    ctx.equal(Object.keys(counts).length, kept + 1, "files downloaded: those kept, and the worker");
    await page.reload();
    await ctx.running(page);
    ctx.equal(Object.entries(downloads(site)).filter(([, count]) => count > 1), [], "downloaded again by a reload");
  },

  "starts without a network, with query and fragment": async (ctx) => {
    const { site, page } = await ctx.open();
    await ctx.keptOffline(page);
    await site.stop();
    for (const address of ["", "?from=home", "?a=1#b=2", "index.html"]) {
      await page.goto("about:blank");
      await page.goto(site.url + address);
      await ctx.running(page);
      ctx.check(await page.locator('[data-figure="net"]').isVisible(), "the design is calculated");
      ctx.equal(page.url(), site.url + address, "address");
    }
    await page.reload();
    await ctx.running(page);
  },

  "a new version waits for the user, then takes over and drops the old files": async (ctx) => {
    const { site, page } = await ctx.open();
    await ctx.keptOffline(page);
    await page.reload();
    await ctx.running(page);
    const [before] = await cacheNames(page);
    const worker = site.read("sw.js").toString("utf8");
    const version = /VERSION = "([0-9a-f]+)"/.exec(worker)[1];
    site.replace.set("sw.js", worker.replace(version, "feedfacecafe"));
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update().then(() => undefined));
    const button = page.locator("[data-update]");
    await button.waitFor();
    ctx.equal((await cacheNames(page)).sort(), [before, before.replace(version, "feedfacecafe")].sort(), "kept while waiting");
    await page.reload();
    await button.waitFor();
    await Promise.all([page.waitForEvent("load"), button.click()]);
    await ctx.running(page);
    ctx.equal(await cacheNames(page), [before.replace(version, "feedfacecafe")], "kept afterwards");
    ctx.equal(await button.count(), 0, "buttons afterwards");
  },

  "a panic leaves the saved text to read and to download": async (ctx) => {
    const { page } = await ctx.open({
      init: () => localStorage.setItem("kc.design.a", '{"name":"First <box>"}'),
    });
    await page.evaluate(PANIC);
    await page.getByRole("heading", { name: "The page has stopped" }).waitFor();
    ctx.equal(await page.getByRole("textbox", { name: "kc.design.a", exact: true }).inputValue(), '{"name":"First <box>"}', "saved text");
    ctx.equal(await page.getByRole("textbox", { name: "kc.units" }).count(), 0, "preferences among the saved texts");
    ctx.check((await page.locator("pre").textContent()).includes("asked for by a test"), "the panic's message is shown");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Download kc.design.a" }).click(),
    ]);
    ctx.equal(download.suggestedFilename(), "kc.design.a.json", "file name");
    ctx.equal(await ctx.axe(page), [], "axe");
    ctx.check(ctx.takeErrors().some((error) => error.includes("asked for by a test")), "the panic is on the console");
    await page.getByRole("button", { name: "Reload" }).click();
    await ctx.running(page);
  },

  "failed starts are counted until one succeeds": async (ctx) => {
    const { page } = await ctx.open();
    // As if two earlier starts had ended before the first render.
    await page.evaluate(() => localStorage.setItem("kc.starts", "2"));
    await page.reload();
    await ctx.running(page);
    ctx.equal(await page.evaluate(() => window.kc.failedStarts), 2, "told to the program");
    ctx.equal(await page.evaluate(() => localStorage.getItem("kc.starts")), null, "kept after a good start");
  },

  "a program that can't be loaded shows the plain screen": async (ctx) => {
    const site = await ctx.site();
    const wasm = /data-wasm=["']?\.\/([^"' >]+)/.exec(site.read("index.html").toString("utf8"))[1];
    site.replace.set(wasm, "no program");
    const page = await ctx.page(await ctx.profile());
    await page.goto(site.url);
    await page.getByRole("heading", { name: "The page has stopped" }).waitFor();
    ctx.equal(await page.evaluate(() => localStorage.getItem("kc.starts")), null, "a failed download is no failed start");
    ctx.check(ctx.takeErrors().length > 0, "the reason is on the console");
  },

  "starts with storage blocked": async (ctx) => {
    const { page } = await ctx.open({ init: BLOCK_STORAGE });
    await page.evaluate(PANIC);
    await page.getByText("Nothing is saved here").waitFor();
    ctx.check(ctx.takeErrors().length > 0, "the panic is on the console");
  },
};
