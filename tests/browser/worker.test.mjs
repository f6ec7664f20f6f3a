// New builds: half-fetched ones are never used, whole ones wait, and none comes in
// during a run.
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

/// Makes `root` a build of another name; `broken` leaves one of its files out.
const rebuild = (root, mark, broken = false) => {
  const worker = readFileSync(join(dist, "sw.js"), "utf8");
  const files = worker.replace(/const BUILD = "\w+"/, `const BUILD = "${mark}"`);
  writeFileSync(join(root, "sw.js"), broken ? files.replace('["./"', '["./","missing.js"') : files);
  const page = readFileSync(join(dist, "index.html"), "utf8");
  writeFileSync(join(root, "index.html"), page.replace("<html ", `<html data-build="${mark}" `));
};

const build = (phone) => phone.run("return document.documentElement.dataset.build ?? 'first'");
const look = async (phone) => {
  await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => done(), () => done());`);
  await new Promise((done) => setTimeout(done, 1_500));
};

test("an update waits during a run, and a half-fetched one is never used", async () => {
  const root = mkdtempSync(join(tmpdir(), "hearthjar-build-"));
  cpSync(dist, root, { recursive: true });
  const server = await serve(root);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 2);
  rebuild(root, "second", true);
  await look(phone);
  await phone.reload();
  assert.equal(await build(phone), "first");
  await phone.see("Vent");
  rebuild(root, "third");
  await look(phone);
  // It waits: no offer on the screen, and a reload still opens the old build.
  assert.ok(!(await phone.text()).includes("A new Hearthjar is ready"));
  await phone.reload();
  await phone.see("Vent");
  assert.equal(await build(phone), "first");
  await server.stop();
  await phone.reload();
  await phone.see("Vent");
  await phone.pass(10);
  await phone.tap("Vent is closed");
  await phone.tap("Give this load up");
  await phone.tap("Fuel or power is gone");
  await phone.see("Stopped: not processed");
  await phone.see("A new Hearthjar is ready.");
  await phone.tap("Use it now");
  await phone.until(async () => (await build(phone).catch(() => "")) === "third", "the third build");
  await phone.ready();
  await phone.see("Stopped: not processed");
  await phone.close();
  rmSync(root, { recursive: true, force: true });
});
