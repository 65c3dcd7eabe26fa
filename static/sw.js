// Keeps the page for use without a network. The build fills in the version and the list of files.
"use strict";
const VERSION = "__VERSION__";
const FILES = "__FILES__";
// Caches belong to the whole host, so the name says which copy of the page this is.
const PREFIX = `kc ${self.registration.scope} `;
const NAME = PREFIX + VERSION;

// A file named after its contents may come from the browser's own cache: the page has just loaded it, and it
// must not be downloaded twice. Anything else is asked for again, which costs no download if it is unchanged.
const request = (path) =>
  new Request(path, { cache: /-[0-9a-f]{12}\.[a-z0-9]+$/.test(path) ? "force-cache" : "no-cache" });

async function store(cache, path) {
  const response = await fetch(request(path));
  if (!response.ok || response.redirected) throw new Error(`${path}: ${response.status}`);
  await cache.put(path, response);
}

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(NAME).then((cache) => Promise.all(FILES.map((path) => store(cache, path)))));
});

self.addEventListener("activate", (event) => {
  const old = (name) => name.startsWith(PREFIX) && name !== NAME;
  event.waitUntil(
    caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))),
  );
});

// A new version waits until the user agrees to it.
self.addEventListener("message", (event) => {
  if (event.data === "accept") self.skipWaiting();
});

async function answer(event, path) {
  const cache = await caches.open(NAME);
  return (await cache.match(path)) ?? fetch(event.request);
}

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const scope = new URL(self.registration.scope);
  if (event.request.method !== "GET" || url.origin !== scope.origin) return;
  if (!url.pathname.startsWith(scope.pathname)) return;
  const name = url.pathname.slice(scope.pathname.length);
  // The page itself, whatever its query; a fragment never gets here.
  const path = name === "index.html" ? "./" : `./${name}`;
  if (FILES.includes(path)) event.respondWith(answer(event, path));
});
