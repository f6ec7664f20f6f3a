// Keeps the app for use without a connection.
//
// Invariants:
// - One cache a build, filled whole or not at all: `install` fails if one file
//   fails, and the build before goes on serving.
// - A new build waits. It takes over when a page posts {type: "take-over"}, or at
//   a cold start when no page is open; never by itself under an open page.
// - Only this build's own files are served or fetched; nothing goes elsewhere.
//
// `.ci/pack.mjs` fills in the two constants.

const BUILD = "__BUILD__";
const FILES = ["__FILES__"];
const CACHE = `hearthjar-${BUILD}`;
const here = (path) => new URL(path, registration.scope).href;

addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    try {
      await cache.addAll(FILES.map((path) => new Request(here(path), { cache: "reload" })));
    } catch (error) {
      await caches.delete(CACHE);
      throw error;
    }
  })());
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("hearthjar-") && name !== CACHE) await caches.delete(name);
    }
    await clients.claim();
  })());
});

addEventListener("message", (event) => {
  if (event.data?.type === "take-over") skipWaiting();
  if (event.data?.type === "build?") event.source?.postMessage({ type: "build", build: BUILD });
});

addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(registration.scope)) return;
  event.respondWith((async () => {
    const cache = await caches.open(CACHE);
    const wanted = request.mode === "navigate" ? here("index.html") : request;
    const kept = await cache.match(wanted, { ignoreSearch: request.mode === "navigate" });
    return kept ?? fetch(request);
  })());
});
