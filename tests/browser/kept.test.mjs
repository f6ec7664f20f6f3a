// The shelf kept between two visits: it is there at once, it is right in what changed since,
// and one that does not fit the record is not shown, or is found out behind the page.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { batch, fill, rowCount as rows } from "./harness/pantry.mjs";

const DAY = 86_400_000;
const many = (from, count) => Array.from({ length: count }, (_, index) =>
  batch({ number: from + index, jars: 4, content: `Trout, lift ${from + index}.`, canned: Date.now() - (500 - index) * DAY })).flat();

/// Everything the list ever said since the page opened.
const HOOK = `
  window.said = [];
  new MutationObserver(() => {
    const count = document.querySelector(".long [role=status]")?.textContent;
    const first = document.querySelector(".row-line b")?.textContent;
    if (count && first) {
      const says = (first + ": " + count).replace(/\\u00a0/g, " ");
      if (window.said.at(-1) !== says) window.said.push(says);
    }
  }).observe(document, { subtree: true, childList: true, characterData: true });`;

const note = (phone) => phone.run(`return JSON.parse(localStorage.getItem("hearthjar/shelf"))`);
const said = (phone) => phone.run("return window.said");
/// The kept text; another one in its place if `change` says how, a function of the text.
const keptText = (phone, change = "null") => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  (async () => {
    const place = await caches.open("hearthjar aside");
    const found = await place.match("kept-shelf");
    const text = await found?.text() ?? null;
    const change = ${change};
    if (change) await place.put("kept-shelf", new Response(change(text)));
    return text;
  })().then(done, (error) => done(String(error)));`);
const ghost = `(text) => text.replace("Trout, lift 1.", "Ghost of a trout")`;
const shelf = async (phone, status) => {
  await phone.reload();
  await phone.ready();
  await phone.see(status);
};

/// A phone with so many batches, to be opened anew at its shelf.
const stocked = async (batches) => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await fill(phone, many(1, batches));
  await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: HOOK });
  await phone.run(`location.hash = "#/shelf"`);
  return { server, phone };
};

test("a large shelf is there at once, and is the record's", async () => {
  const { server, phone } = await stocked(100);
  await shelf(phone, "400 jars in 100 lots");
  assert.equal(await keptText(phone), null, "nothing was kept before");
  await phone.until(async () => (await note(phone))?.shelf, "the shelf to be kept");
  assert.deepEqual((await note(phone)).batches, []);
  assert.equal((await note(phone)).rows, await rows(phone));
  assert.equal((await keptText(phone)).split("\n").length, 102);

  // What is kept is what is shown, until it is compared with the record: here it was
  // changed behind the app's back.
  await keptText(phone, ghost);
  await shelf(phone, "Trout, lift 1.");
  assert.deepEqual(await said(phone), [
    "Ghost of a trout: 400 jars in 100 lots, oldest first.",
    "Trout, lift 1.: 400 jars in 100 lots, oldest first.",
  ]);
  // A wrong one is kept anew.
  await phone.until(async () => !(await keptText(phone)).includes("Ghost"), "the shelf to be kept anew");

  // A jar taken, and the page opened again: its batch is read beside the kept shelf.
  const before = (await note(phone)).shelf;
  await phone.tap("Trout, lift 1.");
  await phone.see("Tap the jars you take");
  await phone.tap("Eaten");
  await phone.see("Taken out. Once open");
  await phone.until(async () => (await note(phone)).rows === await rows(phone), "the note of it");
  assert.equal((await note(phone)).batches.length, 1);
  await keptText(phone, `(text) => text.replace("Trout, lift 2.", "Ghost of another")`);
  await phone.run(`location.hash = "#/shelf"`);
  await shelf(phone, "Trout, lift 2.");
  // The kept one was shown: but with 399 jars from the first.
  assert.ok((await said(phone)).every((says) => says.startsWith("Trout, lift 1.: 399 jars in 100 lots")), `${await said(phone)}`);
  assert.equal((await note(phone)).shelf === before, true);
  // A lot opens by its address before all is read, and by a name that is on no shelf.
  await phone.tap("Trout, lift 1.");
  await phone.see("Tap the jars you take");
  const lot = await phone.run("return location.hash");
  await phone.reload();
  await phone.see("Tap the jars you take");
  assert.equal(await phone.run("return document.querySelectorAll('.tile').length"), 3);
  await phone.run("location.hash = arguments[0]", lot.replace(/[0-9a-f]{8}\//, "00000000/"));
  await phone.see("These jars are not on this phone");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("a kept shelf that does not fit is never shown", async () => {
  const { server, phone } = await stocked(90);
  await shelf(phone, "360 jars in 90 lots");
  await phone.until(async () => (await note(phone))?.shelf, "the shelf to be kept");
  const kept = await note(phone);
  const never = async (status) => {
    await shelf(phone, status);
    await phone.until(async () => (await said(phone)).length > 0, "the list");
    assert.ok(!(await said(phone)).some((says) => says.includes("Ghost")), `${await said(phone)}`);
    await phone.until(async () => (await note(phone))?.shelf && (await note(phone)).shelf !== kept.shelf, "the shelf to be kept anew");
    kept.shelf = (await note(phone)).shelf;
  };
  // Rows that came by another way.
  await keptText(phone, ghost);
  await fill(phone, many(200, 1));
  await never("364 jars in 91 lots");
  // Of another build, cut short, or garbled.
  for (const wrong of [
    `(text) => (${ghost})("x" + text)`,
    `(text) => (${ghost})(text).slice(0, 5_000)`,
    `(text) => (${ghost})(text).replace("\\traw\\t", "\\tcooked\\t")`,
    `(text) => ""`,
  ]) {
    await keptText(phone, wrong);
    await never("364 jars in 91 lots");
  }
  // The rest of the record cannot be read: the kept shelf is the most there is.
  const { identifier } = await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: `
    const all = IDBObjectStore.prototype.getAllKeys;
    IDBObjectStore.prototype.getAllKeys = function (...which) {
      if (which[1] > 1) throw new DOMException("odd", "DataError");
      return all.apply(this, which);
    };` });
  await shelf(phone, "364 jars in 91 lots");
  await phone.see("could not save (DataError)");
  await phone.until(async () => (await phone.run("return document.querySelectorAll('.row-line').length")) > 3, "its lots");
  await phone.see("364 jars in 91 lots");
  await phone.cdp("Page.removeScriptToEvaluateOnNewDocument", { identifier });
  await shelf(phone, "364 jars in 91 lots");
  // A large change at once, as of another tab: which batches is not told.
  await phone.run(`new BroadcastChannel("hearthjar").postMessage("changed")`);
  await phone.until(async () => await note(phone) === null, "the note to go");
  // Storage that has no place beside the record.
  await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: "delete window.caches;" });
  await shelf(phone, "364 jars in 91 lots");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
