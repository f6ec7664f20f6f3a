// New builds: half-fetched ones are never used, whole ones wait, and none comes in
// during a run.
import assert from "node:assert/strict";
import { rmSync } from "node:fs";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { buildOf, copyBuild, lookForBuild, rebuild } from "./harness/builds.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

test("an update waits during a run, and a half-fetched one is never used", async () => {
  const root = copyBuild();
  const server = await serve(root);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 2);
  const first = await buildOf(phone);
  rebuild(root, "second");
  server.broken.set("/boot.js", 500);
  assert.equal(await lookForBuild(phone), false);
  await phone.reload();
  assert.equal(await buildOf(phone), first);
  await phone.see("Vent");
  server.broken.clear();
  const third = rebuild(root, "third");
  assert.equal(await lookForBuild(phone), true);
  // It waits: no offer on the screen, and a reload still opens the old build.
  assert.ok(!(await phone.text()).includes("A new Hearthjar is ready"));
  await phone.reload();
  await phone.see("Vent");
  assert.equal(await buildOf(phone), first);
  await server.stop();
  await phone.reload();
  await phone.see("Vent");
  await phone.pass(10);
  await phone.tap("Vent is closed");
  await phone.tap("Stop this load");
  await phone.tap("Fuel or power is gone");
  await phone.see("Stopped: not processed");
  await phone.see("A new Hearthjar is ready.");
  await phone.tap("Use it now");
  await phone.until(async () => (await buildOf(phone).catch(() => "")) === third, "the third build");
  await phone.ready();
  await phone.see("Stopped: not processed");
  await phone.close();
  rmSync(root, { recursive: true, force: true });
});
