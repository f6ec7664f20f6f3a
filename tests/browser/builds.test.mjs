// The service worker by itself, on a bare page: a build is used whole and as it was
// made, or not at all; a new one waits until it is told.
import assert from "node:assert/strict";
import { cpSync, rmSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { BARE_CODE, bareBuild, buildOf, caches, lookForBuild, rebuild, servedBy, tellWaiting } from "./harness/builds.mjs";

const roots = [];
const made = (root) => (roots.push(root), root);
let server;
let phone;
before(async () => {
  server = await serve(made(bareBuild()), 0, "/deep/er/");
  phone = await Phone.open(server.address);
  await phone.kept();
});
after(async () => {
  await phone?.close();
  await server?.stop();
  for (const root of roots) rmSync(root, { recursive: true, force: true });
});
const root = () => roots[0];

test("the first visit is kept, and is served without the host from then on", async () => {
  const first = await buildOf(phone);
  assert.match(first, /^[0-9a-f]{16}$/);
  assert.equal(await servedBy(phone), first);
  assert.deepEqual(await caches(phone), [`hearthjar-${first}@${server.address}`]);
  await server.stop();
  await phone.reload();
  assert.equal(await buildOf(phone), first);
  // An address with a search part or the page's own name opens the same page.
  for (const more of ["?from=home", "index.html", "#shelf"]) {
    await phone.driver.get(server.address + more);
    await phone.ready();
    assert.equal(await buildOf(phone), first, more);
  }
  await server.start();
  await phone.load();
});

test("the same files are the same build, and nothing waits", async () => {
  assert.equal(await lookForBuild(phone), false);
});

test("a build that fails half-way is never used", async () => {
  const first = await buildOf(phone);
  const second = rebuild(root(), "second");
  server.broken.set(`/deep/er/${BARE_CODE}`, 500);
  assert.equal(await lookForBuild(phone), false);
  await phone.reload();
  assert.equal(await buildOf(phone), first);
  assert.notEqual(first, second);
  assert.deepEqual(await caches(phone), [`hearthjar-${first}@${server.address}`]);
  server.broken.clear();
});

test("a host caught between two builds cannot mix them", async () => {
  const first = await buildOf(phone);
  const old = made(bareBuild());
  // The new worker is there already, the new start-up script is not yet.
  rebuild(root(), "third");
  cpSync(join(root(), "boot.js"), join(old, "boot.new"));
  cpSync(join(old, "boot.js"), join(root(), "boot.js"));
  assert.equal(await lookForBuild(phone), false);
  assert.deepEqual(await caches(phone), [`hearthjar-${first}@${server.address}`]);
  await phone.reload();
  assert.equal(await buildOf(phone), first);
  cpSync(join(old, "boot.new"), join(root(), "boot.js"));
});

test("a whole build waits, and takes over when told", async () => {
  const first = await buildOf(phone);
  const third = rebuild(root(), "fourth");
  assert.equal(await lookForBuild(phone), true);
  // It waits through a reload.
  await phone.reload();
  assert.equal(await buildOf(phone), first);
  assert.equal(await servedBy(phone), first);
  // Told to take over only if alone, it waits while another page is open.
  const one = await phone.driver.getWindowHandle();
  await phone.driver.switchTo().newWindow("tab");
  await phone.load();
  await tellWaiting(phone, { type: "take-over", alone: true });
  await new Promise((done) => setTimeout(done, 500));
  assert.equal(await servedBy(phone), first);
  await phone.driver.close();
  await phone.driver.switchTo().window(one);
  // The browser may count the closed page for a moment more.
  await phone.until(async () => {
    await tellWaiting(phone, { type: "take-over", alone: true });
    return await servedBy(phone) === third;
  }, "the new build");
  // The open page stays as it is until it is loaded again.
  assert.equal(await buildOf(phone), first);
  await phone.reload();
  assert.equal(await buildOf(phone), third);
  await phone.until(async () => (await caches(phone)).length === 1, "the old build to go");
});

test("a waiting build takes over when the app is closed and opened, even without the host", async () => {
  const fifth = rebuild(root(), "fifth");
  assert.equal(await lookForBuild(phone), true);
  await server.stop();
  await phone.kill();
  // The first opening may still get the old build; it is never a mixture.
  await phone.until(async () => {
    await phone.reload();
    return await buildOf(phone) === fifth;
  }, "the build that waited", 20_000);
  assert.equal(await servedBy(phone), fifth);
});
