// Starts the page, counts the starts that failed, and shows a plain screen when the program stops.
(() => {
  "use strict";
  const STARTS = "kc.starts";
  /** Keys of what was entered; the rest is preferences. */
  const ENTERED = ["kc.design.", "kc.broken.", "kc.shelf."];
  const script = document.currentScript;
  let crashed = false;

  /** Runs `use` on the local storage, or gives `otherwise` where that is blocked or full. */
  const storage = (use, otherwise) => {
    try {
      return use(window.localStorage);
    } catch {
      return otherwise;
    }
  };

  const element = (name, text, properties = {}) =>
    Object.assign(document.createElement(name), { textContent: text }, properties);

  const download = (name, text) => {
    const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    element("a", "", { href: url, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
  };

  const saved = () =>
    storage((store) => Object.keys(store).filter((key) => ENTERED.some((start) => key.startsWith(start)))
      .sort().map((key) => [key, store.getItem(key)]), []);

  const button = (text, press) => {
    const made = element("button", text, { type: "button", className: "key" });
    made.addEventListener("click", press);
    return made;
  };

  const record = ([key, text], number) => {
    const part = element("section", "");
    const id = `saved-${number}`;
    part.append(
      element("label", key, { htmlFor: id }),
      element("textarea", "", { id, value: text, readOnly: true, rows: 4, spellcheck: false }),
      button(`Download ${key}`, () => download(`${key}.json`, text)),
    );
    return part;
  };

  const show = (reason) => {
    const records = saved();
    const page = element("main", "", { className: "crash" });
    const heading = element("h1", "The page has stopped", { tabIndex: -1 });
    page.append(
      heading,
      element("p", "Something went wrong in the program. What is saved on this device is still there."),
      button("Reload", () => location.reload()),
      element("h2", "Saved on this device"),
      element("p", records.length
        ? "Copy or download what you want to keep before you go on."
        : "Nothing is saved here, or the browser does not let the page read it."),
    );
    if (records.length > 1) {
      page.append(button("Download all", () =>
        download("kerf-and-coil-saved.json", JSON.stringify(Object.fromEntries(records), null, 1))));
    }
    page.append(...records.map(record), element("h2", "What happened"), element("pre", reason));
    document.body.replaceChildren(page);
    heading.focus();
  };

  /** What a second copy of the program, in a worker, starts from: nothing is loaded or compiled again. */
  const parts = { glue: new URL(script.dataset.js, document.baseURI).href };

  /** What the program calls (see src/platform/boot.rs). */
  const kc = {
    failedStarts: 0,
    running: false,
    started() {
      kc.running = true;
      storage((store) => store.removeItem(STARTS));
      painted().then(() => rest.style()).then(() => rest.load()).then(() => rest.tried(rest.attached));
    },
    later: (exports, table) => rest.stubs(exports, table),
    tap: () => new URL(script.dataset.tap, document.baseURI).href,
    worker() {
      const worker = new Worker(new URL(script.dataset.worker, document.baseURI), { type: "module" });
      worker.postMessage({ ...parts, rest: rest.part });
      return worker;
    },
    crash(reason) {
      if (crashed) return;
      crashed = true;
      console.error(reason);
      setTimeout(() => show(String(reason)), 0);
    },
  };
  window.kc = kc;

  /** A file's bytes from a synchronous request, which takes text only: one letter for each byte. */
  const requestNow = (address) => {
    const request = new XMLHttpRequest();
    request.open("GET", address, false);
    request.overrideMimeType("text/plain; charset=x-user-defined");
    request.send();
    if (request.status !== 200) throw new Error(`${address}: ${request.status}`);
    return Uint8Array.from(request.responseText, (letter) => letter.charCodeAt(0));
  };

  // The rest of the program: what the first result did not need when the page was built (.ci/split.mjs).
  const RETRY_MS = 4_000;
  const rest = {
    address: new URL(script.dataset.later, document.baseURI).href,
    part: undefined,
    attached: false,
    exports: () => undefined,

    /** Functions that stand in for those of the rest until it is there: load it, then call what took its slot. */
    stubs(exports, table) {
      rest.exports = exports;
      const stub = (slot) => (...given) => {
        rest.loadNow();
        return exports()[table].get(slot)(...given);
      };
      return new Proxy({}, { get: (_, slot) => stub(Number(slot)) });
    },

    /** Adds the styles that the first picture does without. */
    style() {
      document.head.append(element("link", "", { rel: "stylesheet", href: script.dataset.style }));
    },

    /** Loads the rest in the background; tries again until it has come. */
    async load() {
      try {
        rest.part = await compile(rest.address);
        // Puts the functions of the rest into the program's table, in place of the stubs.
        if (!rest.attached) await WebAssembly.instantiate(rest.part, { now: rest.exports() });
        rest.attached = true;
      } catch (error) {
        console.warn(error);
        if (!crashed) setTimeout(rest.load, RETRY_MS);
      }
    },

    /** Loads the rest while the program waits for it; nothing but a synchronous request can stop the program. */
    loadNow() {
      if (rest.attached) return;
      try {
        rest.part ??= new WebAssembly.Module(requestNow(rest.address));
        new WebAssembly.Instance(rest.part, { now: rest.exports() });
        rest.attached = true;
      } catch (error) {
        // The program stands in the middle of a call and can't go on.
        kc.crash(`A part of the program is missing: it could not be loaded. Reload with a network.\n${error}`);
        throw error;
      }
    },
  };
  /** Settled once the rest is there or was tried in vain; what else the page loads waits for it. */
  kc.whole = new Promise((done) => { rest.tried = done; });

  /** Waits until the first result is on the screen: charts are drawn in the frame after the first. */
  const painted = () => Promise.race([
    new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))),
    // A page in the background draws no frames.
    new Promise((done) => setTimeout(done, 3_000)),
  ]);

  // A stopped program must not save or answer any more.
  for (const name of ["pagehide", "visibilitychange", "hashchange", "storage", "blur", "focusout", "input", "change"]) {
    window.addEventListener(name, (event) => crashed && event.stopImmediatePropagation(), true);
  }

  // Once the page runs, only a trap or an exhausted stack means that the program is gone.
  const fatal = (error) => error && (!kc.running || error instanceof WebAssembly.RuntimeError || error instanceof RangeError);
  window.addEventListener("error", (event) => fatal(event.error) && kc.crash(event.error.stack ?? event.error));
  window.addEventListener("unhandledrejection", (event) => fatal(event.reason) && kc.crash(event.reason.stack ?? event.reason));

  const compile = async (address) => {
    const response = await fetch(address);
    if (!response.ok) throw new Error(`${address}: ${response.status}`);
    const type = response.headers.get("content-type") ?? "";
    return type.startsWith("application/wasm")
      ? WebAssembly.compileStreaming(response)
      : WebAssembly.compile(await response.arrayBuffer());
  };

  const start = async () => {
    const [glue, program, part] = await Promise.all([
      import(parts.glue),
      compile(script.dataset.wasm),
      // A link's design is read at the start, by the rest of the program.
      location.hash.length > 1 ? compile(rest.address).catch(() => undefined) : undefined,
    ]);
    parts.program = program;
    rest.part = part;
    // Counted only now: leaving while the page still loads is no failed start.
    kc.failedStarts = storage((store) => Number.parseInt(store.getItem(STARTS), 10) || 0, 0);
    storage((store) => store.setItem(STARTS, String(kc.failedStarts + 1)));
    await glue.default({ module_or_path: program });
  };
  start().catch((error) => kc.crash(error?.stack ?? error));
})();
