// Keeps the app for use without a connection.
//
// Invariants:
// - One cache a build, filled whole or not at all. Every file must have the digest
//   it was built with, so a host caught between two builds cannot mix them: then
//   `install` fails, and the build before goes on serving.
// - A new build waits. It takes over when a page says so, or when the app is opened
//   and no page of it was open; never by itself under an open page.
// - Only this build's own files are kept; nothing is asked of any other host.
//
// What a page may post here, and the answer:
//   {type: "take-over"}               the waiting build takes over at once
//   {type: "take-over", alone: true}  the same, but only if no other page is open
//   {type: "build?"}                  {type: "build", build: "…"} to the asking page
//
// `.ci/pack.mjs` fills in the two constants: the build's name, and each file's digest.

const BUILD = "__BUILD__";
const FILES = { "__FILES__": "" };
const SCOPE = registration.scope;
// The scope is part of the name: two copies on one host keep apart.
const OURS = (name) => name.startsWith("hearthjar-") && name.endsWith(`@${SCOPE}`);
const CACHE = `hearthjar-${BUILD}@${SCOPE}`;
const PAGE = new URL("./", SCOPE).href;

addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    try {
      // `addAll` keeps nothing unless it can keep everything.
      await cache.addAll(Object.entries(FILES).map(([path, integrity]) =>
        new Request(new URL(path, SCOPE), { cache: "reload", integrity })));
    } catch (error) {
      // A cache with files in it is the same build, whole, from an earlier visit.
      if ((await cache.keys()).length === 0) await caches.delete(CACHE);
      throw error;
    }
  })());
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (OURS(name) && name !== CACHE) await caches.delete(name);
    }
    await clients.claim();
  })());
});

const pages = async () =>
  (await clients.matchAll({ type: "window", includeUncontrolled: true }))
    .filter((page) => page.url.startsWith(SCOPE));

addEventListener("message", (event) => {
  const { type, alone } = event.data ?? {};
  if (type === "build?") event.source?.postMessage({ type: "build", build: BUILD });
  if (type !== "take-over") return;
  event.waitUntil((async () => {
    if (!alone || (await pages()).length < 2) skipWaiting();
  })());
});

addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith((async () => {
    const cache = await caches.open(CACHE);
    const find = (what) => cache.match(what, { ignoreSearch: true, ignoreVary: true });
    const kept = await find(request) ?? (request.mode === "navigate" ? await find(PAGE) : undefined);
    return kept ?? fetch(request);
  })());
});
