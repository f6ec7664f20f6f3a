// Keeps the app for use without a connection.
//
// Invariants:
// - One cache a build, filled whole or not at all. Every file must have the digest
//   it was built with, so a host caught between two builds cannot mix them: then
//   `install` fails, and the build before goes on serving.
// - A new build waits. It takes over when a page says so, or when the app is opened
//   and no page of it was open; never by itself under an open page.
// - The build before is kept until a page of this one has started, so that a build
//   that cannot start is a build one can go back from.
// - Only this build's own files are kept; nothing is asked of any other host.
//
// What a page may post here, and the answer:
//   {type: "take-over"}               the waiting build takes over at once
//   {type: "take-over", alone: true}  the same, but only if no other page is open
//   {type: "started", build: "…"}     the builds before may go, if it is this one
//   {type: "back"}                    the build before is used again, until another
//                                     comes; {type: "back", done: …} to the asking page
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
// Kept in this build's cache once one has gone back from it: the name of the other.
const BACK = new URL("gone-back", SCOPE).href;

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

addEventListener("activate", (event) => event.waitUntil(clients.claim()));

// Oldest first. All but this build's own are of builds that started, or of ones since
// then that did not: the first is one that did.
const others = async () => (await caches.keys()).filter((name) => OURS(name) && name !== CACHE);

const dropOthers = async () => {
  // A build that comes in or waits has its cache already, and will need it whole.
  if (registration.installing || registration.waiting) return;
  for (const name of await others()) await caches.delete(name);
};

const goBack = async (page) => {
  const [before] = await others();
  if (before) await (await caches.open(CACHE)).put(BACK, new Response(before));
  serving = undefined;
  page?.postMessage({ type: "back", done: before !== undefined });
};

const pages = async () =>
  (await clients.matchAll({ type: "window", includeUncontrolled: true }))
    .filter((page) => page.url.startsWith(SCOPE));

addEventListener("message", (event) => {
  const { type, alone, build } = event.data ?? {};
  if (type === "started" && build === BUILD) event.waitUntil(dropOthers());
  if (type === "back") event.waitUntil(goBack(event.source));
  if (type === "build?") event.source?.postMessage({ type: "build", build: BUILD });
  if (type !== "take-over") return;
  event.waitUntil((async () => {
    if (!alone || (await pages()).length < 2) skipWaiting();
  })());
});

// The cache of the build in use; looked for once while the worker lives.
let serving;
const inUse = async () => {
  const own = await caches.open(CACHE);
  const back = await own.match(BACK);
  return back ? caches.open(await back.text()) : own;
};
const served = () => {
  serving ??= inUse().catch((error) => {
    serving = undefined;
    throw error;
  });
  return serving;
};

addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith((async () => {
    const cache = await served();
    const how = { ignoreSearch: true, ignoreVary: true };
    // A page of the build before may still ask for a part of its own.
    const kept = await cache.match(request, how)
      ?? (request.mode === "navigate" ? await cache.match(PAGE, how) : await caches.match(request, how));
    return kept ?? fetch(request);
  })());
});
