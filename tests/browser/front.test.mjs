// Opening a large record: the first screen comes with its own batches, the rest is read
// behind it; a front that does not fit the record is not believed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { batch, fill, rowCount as rows } from "./harness/pantry.mjs";

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

/// Everything the first screen ever said since the page opened.
const SAID = `
  window.said = [];
  new MutationObserver(() => {
    const says = document.querySelector("main")?.textContent ?? "";
    if (says !== window.said.at(-1)) window.said.push(says);
  }).observe(document, { subtree: true, childList: true, characterData: true });`;

const front = (phone) => phone.run(`return JSON.parse(localStorage.getItem("hearthjar/front"))`);

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
  await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: SAID });
  await phone.reload();
  await phone.see("Perch, Tove's net, load 1");
  // What it left out was being read, and the first screen said so.
  const said = await phone.run("return window.said");
  assert.ok(said.slice(0, -1).some((says) => says.includes("Reading the record")), said.join("\n"));

  // A run whose batch the front does not know: its clock is there from the first.
  const running = batch({ number: 902, content: "Char, the inlet", canned: Date.now() + 50 * 60_000 })
    .filter(([, text]) => !/seal_checked|shelved|heat_off|weight_off|lid_opened|unloaded/.test(text));
  await fill(phone, running);
  await phone.reload();
  await phone.see("Char, the inlet, load 1");
  await phone.until(() => phone.run(`return localStorage.getItem("hearthjar/clocks")?.includes("Char")`), "a copy of its clock");
  const known = await front(phone);
  await phone.run(`localStorage.setItem("hearthjar/front", arguments[0])`, JSON.stringify({
    ...known, rows: await rows(phone), batches: known.batches.filter((name) => name !== running[0][0].split("/")[0]),
  }));
  await phone.reload();
  await phone.see("Char, the inlet, load 1");
  const cards = (await phone.run("return window.said")).filter((says) => !/^\s*$/.test(says));
  assert.ok(cards.every((says) => says.includes("Char, the inlet")), cards.join("\n"));

  // A garbled front is none.
  await phone.run(`localStorage.setItem("hearthjar/front", '{"rows":"x"}');`);
  await phone.reload();
  await phone.see("Perch, Tove's net, load 1");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
