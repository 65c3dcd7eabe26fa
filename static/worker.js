// Runs the program a second time beside the page, for work that takes longer than a frame. The page sends the program's
// parts, compiled already; from then on the program itself listens (src/platform/worker.rs).
"use strict";
let parts;

/** Stands in for the start script, which the program's glue asks for its rest. */
self.window = self;
self.kc = {
  later: (exports, table) => {
    const whole = () => {
      if (parts) new WebAssembly.Instance(parts.rest, { now: exports() });
      parts = undefined;
    };
    const stub = (slot) => (...given) => {
      whole();
      return exports()[table].get(slot)(...given);
    };
    return new Proxy({}, { get: (_, slot) => stub(Number(slot)) });
  },
};

self.addEventListener("message", async (event) => {
  parts = event.data;
  const glue = await import(parts.glue);
  await glue.default({ module_or_path: parts.program });
}, { once: true });

// A rejected start reaches the page as an error.
self.addEventListener("unhandledrejection", (event) => {
  setTimeout(() => { throw event.reason; });
});
