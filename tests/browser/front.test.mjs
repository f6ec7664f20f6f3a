// Opening a large record: the first screen comes with its own batches, the rest is read
// behind it; a front that does not fit the record is not believed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { batch, fill } from "./harness/pantry.mjs";

const DAY = 86_400_000;
const many = (from, count) => Array.from({ length: count }, (_, index) =>
  batch({ number: from + index, content: `Trout, lift ${from + index}`, canned: Date.now() - (500 - index) * DAY })).flat();

/// The requests for everything at once, and for a part, since the page opened.
const HOOK = `
  window.reads = { whole: 0, part: 0 };
  const all = IDBObjectStore.prototype.getAll;
  IDBObjectStore.prototype.getAll = function (...which) {
    window.reads[which.length === 0 ? "whole" : "part"] += 1;
    return all.apply(this, which);
  };`;

const front = (phone) => phone.run(`return JSON.parse(localStorage.getItem("hearthjar/front"))`);
const rows = (phone) => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  indexedDB.open("hearthjar").onsuccess = ({ target: { result: db } }) => {
    db.transaction("events").objectStore("events").count().onsuccess = ({ target }) => { db.close(); done(target.result); };
  };`);

test("the first screen comes first, everything later, and nothing is left out", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  // The front of an empty record first: one noted while the rows come would fit them.
  await phone.until(async () => (await front(phone))?.rows === await rows(phone), "the first front");
  // An old batch whose seals were never checked lies among settled ones.
  const old = batch({ number: 900, content: "Pike, Anselm's bay", canned: Date.now() - 700 * DAY })
    .filter(([, text]) => !/seal_checked|shelved/.test(text));
  await fill(phone, [...many(1, 100), ...old]);
  await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: HOOK });
  await phone.reload();
  await phone.see("Pike, Anselm's bay, load 1");
  assert.equal((await phone.run("return window.reads")).whole, 1, "with a front that does not fit all is read at once");
  await phone.until(async () => (await front(phone))?.rows === await rows(phone), "the front");
  assert.ok((await front(phone)).batches.length < 25);

  await phone.reload();
  await phone.see("Pike, Anselm's bay, load 1");
  await phone.see("Trout, lift 100");
  await phone.until(async () => (await phone.run("return window.reads")).part > 20, "the rest");
  assert.equal((await phone.run("return window.reads")).whole, 0, "with a front nothing is read at once");
  await phone.tap("Hand over", { within: "nav" });
  await phone.tap("And 51 older: show all");
  await phone.see("Trout, lift 1,");
  // A batch that the front leaves out opens by its address.
  const [key] = batch({ number: 2, canned: 0 })[0];
  await phone.run(`location.hash = "#/batch/${key.split("/")[0]}"; location.reload();`);
  await phone.ready();
  await phone.see("Trout, lift 2");

  // Rows that came by another way: the front does not fit, and all is read again.
  await fill(phone, batch({ number: 901, content: "Perch, Tove's net", canned: Date.now() - 650 * DAY })
    .filter(([, text]) => !/seal_checked|shelved/.test(text)));
  await phone.run(`location.hash = "";`);
  await phone.reload();
  await phone.see("Perch, Tove's net, load 1");
  assert.equal((await phone.run("return window.reads")).whole, 1);

  // A garbled front is none.
  await phone.run(`localStorage.setItem("hearthjar/front", '{"rows":"x"}');`);
  await phone.reload();
  await phone.see("Perch, Tove's net, load 1");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
