// A new build that cannot start: the page says so, shows the running clock, gives the
// record out as a file, and the build before can be used again. Also without the host.
import assert from "node:assert/strict";
import { cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { pack } from "../../.ci/pack.mjs";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { buildOf, caches, copyBuild, dist, lookForBuild, rebuild, settled, tellWaiting } from "./harness/builds.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

/// A module whose start function is a trap, as a panic of the app ends.
const TRAP = `export default async () => { await WebAssembly.instantiate(
  new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 8, 1, 0, 10, 5, 1, 3, 0, 0, 11])); };`;

const takeOver = async (phone) => {
  assert.equal(await lookForBuild(phone), true);
  await phone.until(async () => {
    await tellWaiting(phone, { type: "take-over" });
    return settled(phone);
  }, "the new build to take over", 20_000);
};

test("a build that cannot start gives the record out and lets the one before back in", async () => {
  const root = copyBuild();
  const server = await serve(root);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 4);
  await phone.see("Hold at 13 psi");
  const rows = await phone.rows();
  const left = await phone.clock();
  const began = Date.now();
  const good = await buildOf(phone);

  const script = readdirSync(root).find((name) => /^hearthjar-[0-9a-f]+\.js$/.test(name));
  writeFileSync(join(root, script), TRAP);
  const broken = pack(root);
  assert.notEqual(broken, good);
  await takeOver(phone);
  await server.stop();
  await phone.driver.navigate().refresh();
  await phone.see("Hearthjar stopped with a fault");
  // The clock is there, and so is the record.
  await phone.see("Smoked whitefish, Lake Ostermere: Hold at 13 psi or a little over, until");
  assert.deepEqual(await phone.axe(), []);
  await phone.tap("Save the record as a file");
  await phone.see("Saved as hearthjar-rescued.txt");
  const saved = () => readdirSync(phone.downloads).find((name) => name === "hearthjar-rescued.txt");
  await phone.until(saved, "the download");
  await phone.tap("Use the Hearthjar before this one");
  await phone.ready();
  assert.equal(await buildOf(phone), good);
  if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.see("Hold at 13 psi");
  const passed = (Date.now() - began) / 1000;
  assert.ok(Math.abs(left - passed - (await phone.clock())) <= 3, "the clock went on");
  assert.deepEqual(await phone.rows(), rows);
  // It stays, reload after reload, until a mended build comes.
  await phone.reload();
  assert.equal(await buildOf(phone), good);

  // The file the fault page gave out is a whole record: another phone takes it in.
  const text = readFileSync(join(phone.downloads, "hearthjar-rescued.txt"), "utf8");
  await server.start();
  cpSync(dist, root, { recursive: true });
  const third = rebuild(root, "mended");
  await takeOver(phone);
  await phone.until(async () => {
    await phone.reload();
    return (await buildOf(phone)) === third;
  }, "the mended build", 20_000);
  await phone.until(async () => (await caches(phone)).length === 1, "the builds before to go");
  await phone.see("Hold at 13 psi");

  const fresh = await Phone.open(server.address);
  await fresh.tap("I have read this");
  await fresh.tap("Hand over", { within: "nav" });
  await fresh.type("Or paste its text", text);
  await fresh.tap("Look at the pasted text");
  await fresh.tap("Take it in");
  await fresh.see("taken in");
  // What the taking in itself notes about the other phone's clock is not of the file.
  const came = (await fresh.rows()).filter((row) => !row.includes("clock_moved"));
  assert.deepEqual(came, rows.filter((row) => !row.includes("clock_moved")));
  await fresh.close();
  await phone.close();
  await server.stop();
  rmSync(root, { recursive: true, force: true });
});

test("an app that stops later, beside a hot canner, says so and goes on where it was", async () => {
  const root = copyBuild();
  const server = await serve(root);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 2);
  await phone.see("Vent");
  const rows = await phone.rows();
  // As a panic in a tap ends: the same trap, met by the page as an uncaught error.
  await phone.run(`setTimeout(() => { new WebAssembly.Instance(new WebAssembly.Module(
    new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 8, 1, 0, 10, 5, 1, 3, 0, 0, 11]))); }, 10);`);
  await phone.see("Hearthjar stopped with a fault");
  await phone.see("Smoked whitefish, Lake Ostermere: Vent, until");
  await phone.see("Save the record as a file");
  await phone.tap("Open again");
  await phone.until(async () => !(await phone.text().catch(() => "stopped with a fault")).includes("stopped with a fault"), "the app");
  await phone.ready();
  if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.see("Vent");
  assert.deepEqual(await phone.rows(), rows);
  assert.ok(Math.abs((await phone.clock()) - 600) <= 60);
  await phone.close();
  await server.stop();
  rmSync(root, { recursive: true, force: true });
});
