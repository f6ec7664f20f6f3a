// Storage that is missing, denied, full or damaged: the page says so, the run goes
// on in memory, and nothing that could not be read is written over.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

test("no database: said, and the run goes on in memory with a file to hand over", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, {
    before: "Object.defineProperty(window, 'indexedDB', { value: undefined });",
  });
  await phone.see("Nothing is being saved.");
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 3);
  await phone.see("Bring it up to 13 psi");
  await phone.see("Nothing is being saved.");
  await phone.tap("Hand over what is here now");
  await phone.tap("Share or save the file");
  await phone.see("Saved as hearthjar-");
  await phone.close();
  await server.stop();
});

test("local storage denied: taps are lost, nothing else", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, {
    before: `Object.defineProperty(window, "localStorage",
      { get() { throw new DOMException("no", "SecurityError"); } });`,
  });
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 2);
  await phone.reload();
  // Who has a batch is not kept from it by the safety page.
  await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.see("Vent");
  assert.deepEqual((await phone.complaints()).filter((line) => !line.includes("SecurityError")), []);
  await phone.close();
  await server.stop();
});

test("the phone is full: said at once, and the run's clock goes on", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 2);
  const before = await phone.rows();
  await phone.run(`IDBObjectStore.prototype.put = () => {
    throw new DOMException("full", "QuotaExceededError"); };`);
  await phone.pass(10);
  await phone.tap("Vent is closed");
  await phone.see("The phone is out of space.");
  await phone.see("Bring it up to 13 psi");
  await phone.tap("At 13 psi: start 110 min");
  await phone.pass(1);
  assert.ok(Math.abs(await phone.clock() - 109 * 60) <= 3);
  assert.deepEqual(await phone.rows(), before);
  await phone.close();
  await server.stop();
});

test("storage is tried again, and what memory held is written", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await phone.run(`window.put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };`);
  await phone.tap("Heat is on");
  await phone.see("Wait for steady steam");
  await phone.see("Nothing is being saved.");
  await phone.tap("Try to save again");
  await phone.see("It still cannot be saved.");
  await phone.tap("Steam is steady");
  await phone.see("Vent");
  await phone.run("IDBObjectStore.prototype.put = window.put");
  await phone.tap("Try to save again");
  await phone.see("Everything is being saved again.");
  assert.ok(!(await phone.text()).includes("Nothing is being saved."));
  const steps = (await phone.rows()).filter((row) => /"step":"(heat_on|steam_steady)"/.test(row));
  assert.equal(steps.length, 2);
  await phone.reload();
  if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.see("Vent");
  await phone.close();
  await server.stop();
});

test("a record of a newer build is not written to, and a blocked one says by whom", async () => {
  const server = await serve(dist);
  const newer = (version) => `window.raised = new Promise((done) => {
    const open = indexedDB.open("hearthjar", ${version});
    open.onupgradeneeded = () => { if (!open.result.objectStoreNames.contains("events")) open.result.createObjectStore("events"); };
    open.onsuccess = () => { window.held = open.result; done(true); };
  });`;
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await phone.tap("Heat is on");
  await phone.see("Wait for steady steam");
  const before = await phone.rows();
  // A newer build in another tab raises the version under the open page.
  await phone.run(newer(2));
  await phone.see("written by a newer Hearthjar");
  await phone.tap("Steam is steady");
  await phone.see("Vent");
  await phone.see("Nothing is being saved.");
  assert.deepEqual(await phone.rows(), before);
  // Opened again by the old build, it says the same and writes nothing.
  await phone.load();
  await phone.see("written by a newer Hearthjar");
  assert.deepEqual(await phone.rows(), before);
  await phone.close();

  const other = await Phone.open(server.address, {
    before: `const open = IDBFactory.prototype.open;
      window.mode = "blocked";
      IDBFactory.prototype.open = function (...a) {
        if (window.mode === "") return open.apply(this, a);
        const request = {};
        if (window.mode === "blocked") setTimeout(() => request.onblocked?.(new Event("blocked")));
        return request;
      };`,
  });
  await other.see("Another tab holds an older Hearthjar open. Close that tab.");
  await other.run("window.mode = 'mute'");
  await other.tap("Try to save again");
  await other.see("The phone's storage does not answer.", 40_000);
  // The page tries by itself every ten seconds: it may be done before the tap.
  await other.run(`window.mode = "";
    [...document.querySelectorAll("button")].find((b) => b.innerText.startsWith("Try to save again"))?.click();`);
  await other.see("Everything is being saved again.", 40_000);
  await other.close();
  await server.stop();
});

test("persistence denied is said as it is", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, {
    before: `StorageManager.prototype.persist = async () => false;
      StorageManager.prototype.persisted = async () => false;`,
  });
  await phone.tap("I have read this");
  await phone.tap("More", { within: "nav" });
  await phone.tap("Ask the browser to keep the record");
  await phone.see("The browser may clear the record when space runs short.");
  await phone.close();
  await server.stop();
});

test("rows that cannot be read are left as they are, and the rest is there", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    const open = indexedDB.open("hearthjar");
    open.onsuccess = () => {
      const write = open.result.transaction("events", "readwrite");
      const store = write.objectStore("events");
      store.put("\\u0000garbage{", "rotten");
      store.put({ not: "text" }, "odd");
      store.put("[]", "07/08");
      write.oncomplete = () => { open.result.close(); done(); };
    };`);
  await phone.reload();
  await phone.see("3 rows of the record could not be read");
  await phone.tap("Heat is on");
  await phone.see("Wait for steady steam");
  const unread = (rows) => rows.filter((row) => typeof row !== "string" || !row.includes('"what"')).length;
  assert.equal(unread(await phone.rows()), 3);
  // They go out as a file, as they are.
  await phone.tap("Hand them out as a file");
  await phone.see("Saved as hearthjar-unread-");
  const name = () => readdirSync(phone.downloads).find((file) => /^hearthjar-unread-.*\.txt$/.test(file));
  await phone.until(name, "the download");
  const file = readFileSync(join(phone.downloads, name()), "utf8");
  const { unread: list } = JSON.parse(file.slice(file.indexOf("\n\n")));
  assert.deepEqual(list.map((row) => row.row).sort(), ["\u0000garbage{", '{"not":"text"}', "[]"].sort());

  // A row that went bad is healed by a file that holds it, and still not written over.
  await phone.tap("Hand over", { within: "nav" });
  await phone.tap("Share or save the file");
  await phone.see("Saved as hearthjar-");
  const record = () => readdirSync(phone.downloads).find((file) => /^hearthjar-2.*\.txt$/.test(file));
  await phone.until(record, "the record");
  await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    const open = indexedDB.open("hearthjar");
    open.onsuccess = () => {
      const write = open.result.transaction("events", "readwrite");
      const store = write.objectStore("events");
      const keys = store.getAllKeys();
      keys.onsuccess = () => {
        const key = keys.result.filter((key) => /^[0-9a-f]{32}\\//.test(key)).pop();
        store.put("torn", key);
      };
      write.oncomplete = () => { open.result.close(); done(); };
    };`);
  await phone.reload();
  await phone.see("4 rows of the record could not be read");
  await phone.tap("Hand over", { within: "nav" });
  await phone.type("Or paste its text", readFileSync(join(phone.downloads, record()), "utf8"));
  await phone.tap("Look at the pasted text");
  await phone.tap("Take it in");
  await phone.see("taken in");
  const rows = await phone.rows();
  assert.ok(rows.includes("torn"), "the torn row is kept aside");
  assert.equal(unread(rows), 4);
  await phone.close();
  await server.stop();
});

test("one row that the browser itself cannot read does not hide the rest", async () => {
  const server = await serve(dist);
  const other = await Phone.open(server.address, {
    before: `IDBObjectStore.prototype.getAll = () => { throw new DOMException("rot", "DataError"); };`,
  });
  await begin(other);
  await smoked(other);
  await other.load();
  await other.tap("Smoked whitefish, Lake Ostermere, load 1");
  await other.see("Load the canner");
  await other.close();
  await server.stop();
});
