// Starts the app and its service worker, and says so plainly when it cannot.
// Invariant: the page is never left blank. This file has no rule of its own; the
// build's names stand in the page's own preload links.

const SLOW = 15_000;
const PATIENCE = 8_000;
const ENGLISH = {
  fetch: "Hearthjar could not be fetched. Reload when there is a connection; once it has opened, it needs none.",
  old: "Hearthjar could not start in this browser. It needs one of the last three years. If this one is, reload with a connection.",
  fault: "Hearthjar stopped with a fault. Everything you tapped is kept, and the clock goes on from it.",
  gone: "This part could not be fetched. Open it again when there is a connection; once it has opened, it needs none.",
  slow: "Still opening: the connection is slow. Wait, or reload.",
  opening: "Opening…",
  reload: "Reload",
  again: "Open again",
  before: "Use the Hearthjar before this one",
};
const SPANISH = {
  fetch: "No se pudo descargar Hearthjar. Vuelva a cargarlo cuando haya conexión; una vez abierto, no la necesita.",
  old: "Hearthjar no pudo arrancar en este navegador. Necesita uno de los últimos tres años. Si este lo es, vuelva a cargarlo con conexión.",
  fault: "Hearthjar se detuvo por una falla. Todo lo que tocó está guardado, y el reloj sigue desde ahí.",
  gone: "No se pudo descargar esta parte. Vuelva a abrirla cuando haya conexión; una vez abierta, no la necesita.",
  slow: "Todavía se está abriendo: la conexión es lenta. Espere, o vuelva a cargar.",
  opening: "Abriendo…",
  reload: "Volver a cargar",
  again: "Abrir de nuevo",
  before: "Usar el Hearthjar anterior",
};

// The language chosen under More, else the browser's first one that there is.
const language = (() => {
  try {
    const chosen = JSON.parse(localStorage.getItem("hearthjar/language"));
    if (chosen === "en" || chosen === "es") return chosen;
  } catch {
    // Storage may be denied: then the browser's own.
  }
  const short = (navigator.languages ?? [navigator.language]).map((tag) => `${tag}`.slice(0, 2));
  return short.find((tag) => tag === "en" || tag === "es") ?? "en";
})();
document.documentElement.lang = language;
const SAY = language === "es" ? SPANISH : ENGLISH;

const fetched = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer;
};

const text = async (part) =>
  (await fetched(`${document.querySelector('meta[name="texts"]').content}${language}${part}.txt`)).text();

// Compiled while the rest comes in. What does not go this way, as with a host that has a
// wrong name for its kind, is compiled from its bytes.
const compiled = (wasm) => globalThis.WebAssembly?.compileStreaming?.(fetch(wasm)).catch(() => undefined);
const bytes = async (wasm) => (await fetched(wasm)).arrayBuffer();

// What has to come is asked for before anything else is done: the page around it may
// still be coming in itself.
const script = document.querySelector('link[rel="modulepreload"]')?.href;
const wasm = document.querySelector('link[rel="preload"][as="fetch"]')?.href;
const coming = Promise.all([import(script), text(""), compiled(wasm)]);
coming.catch(() => {});
if (document.readyState === "loading") {
  await new Promise((done) => addEventListener("DOMContentLoaded", done, { once: true }));
}
document.getElementById("boot-say").textContent = SAY.opening;

const ready = () => document.documentElement.hasAttribute("data-ready");

// A build that cannot start cannot let the next one in either, so this does.
const mend = async () => {
  const found = await navigator.serviceWorker.getRegistration();
  await found.update();
  const next = found.installing ?? found.waiting;
  if (next) {
    await new Promise((done) => {
      const look = () => {
        if (next.state === "installed") next.postMessage({ type: "take-over" });
        if (next.state === "activated" || next.state === "redundant") done();
      };
      next.addEventListener("statechange", look);
      look();
    });
  }
};

const again = async (event) => {
  event.target.disabled = true;
  const patience = new Promise((done) => setTimeout(done, PATIENCE));
  // An app that had started keeps its build: a run may be on.
  if (!ready()) await Promise.race([mend().catch(() => {}), patience]);
  location.reload();
};

// The build before is kept until this one has started: whoever cannot wait for a
// mended one goes back to it.
const offerBack = async (box) => {
  const found = await navigator.serviceWorker?.getRegistration();
  const names = found?.active ? await caches.keys() : [];
  const builds = names.filter((name) => name.startsWith("hearthjar-") && name.endsWith(`@${found.scope}`));
  if (ready() || builds.length < 2) return;
  const back = document.createElement("button");
  back.className = "second";
  back.textContent = SAY.before;
  back.addEventListener("click", () => {
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (data.type === "back") location.reload();
    });
    navigator.serviceWorker.startMessages();
    found.active.postMessage({ type: "back" });
  });
  box.append(back);
};

const say = (text, button) => {
  let box = document.getElementById("boot");
  if (!box) {
    box = document.createElement("div");
    box.id = "boot";
    document.body.prepend(box);
  }
  box.setAttribute("role", "alert");
  const title = document.createElement("h1");
  title.textContent = "Hearthjar";
  const line = document.createElement("p");
  line.textContent = text;
  const reload = document.createElement("button");
  reload.className = "main";
  reload.textContent = button;
  reload.addEventListener("click", again);
  box.replaceChildren(title, line, reload);
  box.scrollIntoView();
  return box;
};

const why = (error) => {
  if (typeof WebAssembly !== "object") return SAY.old;
  if (error instanceof WebAssembly.RuntimeError) return SAY.fault;
  const { CompileError, LinkError } = WebAssembly;
  return [SyntaxError, CompileError, LinkError].some((kind) => error instanceof kind) ? SAY.old : SAY.fetch;
};

// A panic in the app ends its script; the record is safe on disk, so say that, show
// the clocks, offer the record as a file. Once only: a stopped app faults again and
// again, and a button must not go from under a finger.
let stopped = false;
const fault = async (error) => {
  if (stopped || why(error) !== SAY.fault) return;
  stopped = true;
  const box = say(SAY.fault, SAY.again);
  try {
    box.append(...(await import("./rescue.js")).rescue(language));
    await offerBack(box);
  } catch (failed) {
    console.error(failed);
  }
};
addEventListener("error", (event) => fault(event.error));
addEventListener("unhandledrejection", (event) => fault(event.reason));

// The desk's half is fetched when its first screen is opened. The stove's half leaves
// a place for it and says so with an event; that half, once here, hears it by itself.
let desk = "away";
let first = "";
const tell = (text) => {
  const place = document.getElementById("desk");
  const line = document.createElement("p");
  line.className = place?.parentElement.tagName === "MAIN" ? "page" : "quiet";
  line.setAttribute("role", "status");
  line.textContent = text;
  place?.replaceChildren(line);
};
const fetchDesk = async () => {
  // Also without a place, when a large take-in has left something to do.
  const wanted = document.getElementById("desk") || "pieces" in document.documentElement.dataset;
  if (desk === "here" || !wanted) return;
  tell(SAY.opening);
  if (desk === "coming") return;
  desk = "coming";
  try {
    const [script, wasm] = document.querySelector('meta[name="desk"]').content.split(" ");
    const [half, later, code] = await Promise.all([import(`./${script}`), text("-later"), compiled(wasm)]);
    globalThis.hearthjarTexts = first + later;
    await half.default({ module_or_path: code ?? bytes(wasm) });
    desk = "here";
    dispatchEvent(new Event("hearthjar-desk"));
  } catch (error) {
    console.error(error);
    desk = "away";
    tell(why(error) === SAY.fetch ? SAY.gone : why(error));
  }
};
addEventListener("hearthjar-desk", fetchDesk);

const slow = setTimeout(() => {
  if (!ready()) say(SAY.slow, SAY.reload);
}, SLOW);

try {
  const [app, texts, code] = await coming;
  globalThis.hearthjarTexts = first = texts;
  await app.default({ module_or_path: code ?? bytes(wasm) });
  const build = document.querySelector('meta[name="build"]').content;
  navigator.serviceWorker?.controller?.postMessage({ type: "started", build });
} catch (error) {
  console.error(error);
  fault(error);
  if (!ready() && why(error) !== SAY.fault) offerBack(say(why(error), SAY.reload)).catch(console.error);
} finally {
  clearTimeout(slow);
  // Only now: keeping the app must not slow its first opening. And even after a
  // fault: the next build may mend it.
  if ("serviceWorker" in navigator && isSecureContext) {
    navigator.serviceWorker.register("sw.js").catch((error) => console.warn(error));
  }
}
