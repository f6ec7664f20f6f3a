// The start-up script: whatever fails, the page says so and offers a way on.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, renameSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { pack } from "../../.ci/pack.mjs";
import { Phone } from "./harness/browser.mjs";
import { BARE_CODE, BARE_SCRIPT, bareBuild, copyBuild, dist } from "./harness/builds.mjs";

/// Opens `root` after `change` to it, waits for the words, mends it, and reloads by
/// the page's own button.
const fails = async (root, change, mend, words, button) => {
  const server = await serve(root);
  change(server);
  const phone = await Phone.open(server.address, { wait: false });
  await phone.see(words, 20_000);
  assert.equal(await phone.run("return document.getElementById('boot').getAttribute('role')"), "alert");
  assert.deepEqual(await phone.axe(), []);
  mend(server);
  await phone.tap(button);
  await phone.ready();
  assert.ok(!(await phone.text()).includes(words));
  await phone.close();
  await server.stop();
  rmSync(root, { recursive: true, force: true });
};

test("the script or the wasm cannot be fetched", async () => {
  for (const name of [BARE_SCRIPT, BARE_CODE]) {
    await fails(bareBuild(), (server) => server.broken.set(`/${name}`, 503), (server) => server.broken.clear(),
      "Hearthjar could not be fetched", "Reload");
  }
});

test("the wasm arrives cut off", async () => {
  const root = copyBuild();
  const code = join(root, /href="(\S+_bg\.wasm)"/.exec(readFileSync(join(root, "index.html"), "utf8"))[1]);
  const whole = readFileSync(code);
  await fails(root, () => truncateSync(code, 40_000), () => writeFileSync(code, whole),
    "Hearthjar could not start in this browser", "Reload");
});

test("the texts cannot be fetched, or are those of another build", async () => {
  const root = copyBuild();
  const texts = join(root, readdirSync(root).find((name) => /^texts-\w+-en\.txt$/.test(name)));
  const whole = readFileSync(texts, "utf8");
  await fails(root, () => renameSync(texts, `${texts}.away`), () => renameSync(`${texts}.away`, texts),
    "Hearthjar could not be fetched", "Reload");
  const other = copyBuild();
  const theirs = texts.replace(root, other);
  await fails(other, () => writeFileSync(theirs, whole.replace(/^\w+/, "0123456789abcdef")),
    () => writeFileSync(theirs, whole), "Hearthjar could not be fetched", "Reload");
});

test("the script is newer than the browser reads", async () => {
  const root = bareBuild();
  const script = readFileSync(join(root, BARE_SCRIPT));
  await fails(root, () => writeFileSync(join(root, BARE_SCRIPT), "export default async () => { future syntax };"),
    () => writeFileSync(join(root, BARE_SCRIPT), script), "Hearthjar could not start in this browser", "Reload");
});

test("a browser, or a host, with which code cannot be compiled while it comes in", async () => {
  const server = await serve(dist);
  const refuses = `WebAssembly.compileStreaming = WebAssembly.instantiateStreaming =
    async () => { throw new TypeError("the host calls it text"); };`;
  for (const before of ["delete WebAssembly.compileStreaming; delete WebAssembly.instantiateStreaming;", refuses]) {
    const phone = await Phone.open(server.address, { before });
    await phone.tap("I have read this");
    await phone.see("Nothing is on the stove");
    // The other half as well.
    await phone.tap("Shelf", { within: "nav" });
    await phone.see("No jars found.");
    await phone.close();
  }
  await server.stop();
});

/// A module whose start function is a trap, as a panic of the app ends.
const BYTES = `new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 8, 1, 0, 10, 5, 1, 3, 0, 0, 11])`;
const TRAP = `await WebAssembly.instantiate(${BYTES});`;
const IN_TAP = `setTimeout(() => { new WebAssembly.Instance(new WebAssembly.Module(${BYTES})); }, 50);`;
const IN_TASK = `(async () => { ${TRAP} })();`;

test("the app stops with a fault at its start; the next build is let in without it", async () => {
  const root = bareBuild(TRAP);
  const script = join(root, BARE_SCRIPT);
  await fails(root, () => {}, () => {
    writeFileSync(script, readFileSync(script, "utf8").replace(TRAP, "document.documentElement.dataset.ready = 'yes';"));
    pack(root);
  }, "Hearthjar stopped with a fault", "Open again");
});

test("the app stops with a fault later, in a tap or in a task", async () => {
  for (const later of [IN_TAP, IN_TASK]) {
    // Once only: an app that had started opens again as the build it was.
    await fails(bareBuild(`document.documentElement.dataset.ready = "yes";
      document.getElementById("boot").remove();
      if (!sessionStorage.getItem("once")) { sessionStorage.setItem("once", "1"); ${later} }`),
      () => {}, () => {}, "Hearthjar stopped with a fault", "Open again");
  }
});

test("without JavaScript the page says what it needs", async () => {
  const root = bareBuild();
  const server = await serve(root);
  const phone = await Phone.open(server.address, { wait: false, script: false });
  const { root: { nodeId } } = await phone.cdp("DOM.getDocument");
  const { nodeId: words } = await phone.cdp("DOM.querySelector", { nodeId, selector: "noscript p" });
  const { model } = await phone.cdp("DOM.getBoxModel", { nodeId: words });
  assert.ok(model.width > 200 && model.height > 20, "the words are on the screen");
  const { outerHTML } = await phone.cdp("DOM.getOuterHTML", { nodeId: words });
  assert.match(outerHTML, /Hearthjar needs JavaScript/);
  await phone.close();
  await server.stop();
  rmSync(root, { recursive: true, force: true });
});
