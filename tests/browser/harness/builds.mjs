// Builds of the app for tests to serve: copies of the real one, and a bare one that
// is only the start-up script and the service worker.
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pack } from "../../../.ci/pack.mjs";

const top = new URL("../../../", import.meta.url).pathname;
export const dist = join(top, "dist");

const folder = () => mkdtempSync(join(tmpdir(), "hearthjar-build-"));

/// The built app in a folder of its own, to be changed.
export const copyBuild = () => {
  const root = folder();
  cpSync(dist, root, { recursive: true });
  return root;
};

export const BARE_SCRIPT = "hearthjar-0a.js";
export const BARE_CODE = "hearthjar-0a_bg.wasm";

/// A page that is ready as soon as it has started: what the service worker and the
/// start-up script do does not hang on what the app does.
export const bareBuild = (script = "document.documentElement.dataset.ready = 'yes';") => {
  const root = folder();
  for (const name of ["boot.js", "rescue.js", "sw.js", "manifest.webmanifest", "icons"]) {
    cpSync(join(top, "public", name), join(root, name), { recursive: true });
  }
  const page = readFileSync(join(top, "index.html"), "utf8");
  writeFileSync(join(root, "index.html"), page);
  // The smallest wasm module: its magic number and version.
  writeFileSync(join(root, BARE_CODE), Buffer.from([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]));
  writeFileSync(join(root, BARE_SCRIPT), `export default async ({ module_or_path }) => {
    const code = await module_or_path;
    await WebAssembly[code instanceof WebAssembly.Module ? "instantiate" : "instantiateStreaming"](code);
    ${script}
  };`);
  pack(root);
  return root;
};

/// Makes the build in `root` another one; returns its name.
export const rebuild = (root, mark) => {
  const boot = join(root, "boot.js");
  writeFileSync(boot, `${readFileSync(boot, "utf8")}\n// ${mark}\n`);
  return pack(root);
};

/// The name of the build that the open page belongs to.
export const buildOf = (phone) =>
  phone.run("return document.querySelector('meta[name=build]')?.content");

/// The name of the build whose worker serves the page.
export const servedBy = (phone) => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  const worker = navigator.serviceWorker;
  worker.addEventListener("message", ({ data }) => { if (data.type === "build") done(data.build); });
  worker.startMessages();
  worker.controller ? worker.controller.postMessage({ type: "build?" }) : done(null);`);

/// Has the browser look for a new build; says whether one waits when that is over.
export const lookForBuild = (phone) => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  navigator.serviceWorker.getRegistration().then(async (found) => {
    const update = found.update().catch(() => {});
    await update;
    while (found.installing) await new Promise((wait) => setTimeout(wait, 25));
    done(found.waiting !== null);
  });`);

/// Tells the waiting build what a page would tell it.
export const tellWaiting = (phone, message) => phone.run(`
  return navigator.serviceWorker.getRegistration().then((found) => found.waiting?.postMessage(arguments[0]));`, message);

/// Whether no build waits and the one there is has taken over. Asks no worker: one
/// that is asked all the time never falls idle, and must be idle to be followed.
export const settled = (phone) => phone.run(`
  return navigator.serviceWorker.getRegistration().then((found) =>
    !found.installing && !found.waiting && found.active.state === "activated");`);

/// The names of the caches on the phone.
export const caches = (phone) => phone.run("return caches.keys()");
