// Storage that is missing, denied, full or damaged: the page says so, the run goes
// on in memory, and nothing that could not be read is written over.
import assert from "node:assert/strict";
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
  const rows = await phone.rows();
  assert.equal(rows.filter((row) => typeof row !== "string" || !row.includes('"what"')).length, 3);
  await phone.close();
  await server.stop();
});
