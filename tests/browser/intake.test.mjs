// A large file taken in: kept at once in a few pieces, then row by row behind the page.
// Killed, taken out again, out of space, seen in another tab: nothing is lost, doubled
// or back again.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { fileOf } from "../bench/growth.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { choose, download, save } from "./harness/files.mjs";
import { batch, fill } from "./harness/pantry.mjs";

const DAY = 86_400_000;
const NOW = Date.now();
const many = (from, count) => Array.from({ length: count }, (_, index) =>
  batch({ number: from + index, jars: 3, content: `Perch, haul ${from + index}`, canned: NOW - (900 - index) * DAY })).flat();
const own = () => batch({ number: 7, content: "Pike, Anselm's bay", canned: NOW - 3 * DAY });

const texts = (rows) => rows.map(([, text]) => text).sort();

/// Every row with its key, and how many pieces are left.
const stored = async (phone) => {
  const all = await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    indexedDB.open("hearthjar").onsuccess = ({ target: { result: db } }) => {
      const store = db.transaction("events").objectStore("events");
      const keys = store.getAllKeys();
      store.getAll().onsuccess = ({ target: { result: values } }) => {
        db.close();
        done(keys.result.map((key, place) => [key, values[place]]));
      };
    };`);
  const pieces = all.filter(([key]) => key.startsWith("intake/"));
  return { pieces: pieces.length, lines: pieces.flatMap(([, text]) => text.split("\n")), rows: all.filter(([key]) => /^[0-9a-f]{32}\//.test(key)) };
};

const counts = (phone) => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  indexedDB.open("hearthjar").onsuccess = ({ target: { result: db } }) => {
    const store = db.transaction("events").objectStore("events");
    const pieces = store.count(IDBKeyRange.bound("intake/", "intake0"));
    store.count().onsuccess = ({ target: { result } }) => { db.close(); done([pieces.result, result - pieces.result]); };
  };`);

/// Waits until some of it has rows and some has not.
const half = (phone, before) => phone.until(async () => {
  const [pieces, rows] = await counts(phone);
  assert.ok(pieces > 0, "it was done before anybody looked");
  return rows > before + 200;
}, "the first rows", 60_000);

/// Waits until all has rows.
const whole = (phone) => phone.until(async () => (await counts(phone))[0] === 0, "the last row", 240_000);

const prepared = async (server, options) => {
  const phone = await Phone.open(server.address, options);
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await fill(phone, own());
  await phone.kept();
  await phone.reload();
  await phone.see("Pike, Anselm's bay");
  return phone;
};

const look = async (phone, path) => {
  await phone.tap("Hand over", { within: "nav" });
  await phone.see("Choose a file");
  await choose(phone, "Choose a file", path);
  await phone.see("In this file", 60_000);
};

const taken = (phone, count) => phone.see(`${count} entries were taken in.`, 60_000);

test("killed while the rows are written: all is there, and each once", async () => {
  const server = await serve(dist);
  const phone = await prepared(server);
  const rows = many(100, 700);
  await look(phone, save(phone, "record.txt", fileOf(rows)));
  await phone.see("And 650 batches more.");
  assert.deepEqual(await phone.axe(), []);
  await phone.views("look-in");
  await phone.tap("Take it in");
  await taken(phone, rows.length);
  // The stove's half lists it, the newest first, and the rest when asked.
  await phone.see("And 651 older: show all", 60_000);
  assert.deepEqual(await phone.axe(), []);
  await phone.views("taken-in");
  await half(phone, own().length);
  await phone.kill();
  const { pieces, rows: some } = await stored(phone);
  assert.ok(pieces > 0 && some.length < own().length + rows.length, "it was not killed in the middle");
  await phone.see("Perch, haul 799");
  await phone.tap("Hand over", { within: "nav" });
  await phone.see("And 651 older: show all");
  await phone.tap("And 651 older: show all");
  await phone.see("Perch, haul 100,");
  // From Today on, with no screen of the desk's open, what is left is written too.
  await phone.tap("Today", { within: "nav" });
  await phone.kill();
  await whole(phone);
  const end = await stored(phone);
  assert.deepEqual(texts(end.rows), texts([...own(), ...rows]));
  await phone.reload();
  await phone.see("Perch, haul 799");
  // The next openings read the first screen's batches first.
  await phone.until(() => phone.run(`return JSON.parse(localStorage.getItem("hearthjar/front"))?.rows > ${rows.length}`), "the front", 20_000);
  await phone.reload();
  await phone.see("Perch, haul 799");
  await look(phone, save(phone, "again.txt", fileOf(rows)));
  await phone.see("All of it is here already.");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("taken out again while the rows are written: nothing of it comes back", async () => {
  const server = await serve(dist);
  const phone = await prepared(server);
  const rows = many(100, 700);
  const path = save(phone, "record.txt", fileOf(rows));
  await look(phone, path);
  await phone.tap("Take it in");
  await taken(phone, rows.length);
  await half(phone, own().length);
  await phone.tap("Take them out again");
  await phone.until(async () => !(await phone.text()).includes("were taken in"), "it to be out", 60_000);
  const out = await stored(phone);
  assert.equal(out.pieces, 0);
  assert.deepEqual(texts(out.rows), texts(own()));
  await phone.until(async () => !(await phone.text()).includes("Perch"), "the other half", 60_000);
  await phone.reload();
  await phone.see("Pike, Anselm's bay");
  assert.ok(!(await phone.text()).includes("Perch"));
  assert.deepEqual(texts((await stored(phone)).rows), texts(own()));

  // Taken in once more, and a restore while its rows are written: first they all are.
  await phone.tap("More", { within: "nav" });
  await phone.run(`location.hash = "#/files"`);
  const backup = await download(phone, () => phone.tap("Save a backup"));
  await look(phone, path);
  await phone.tap("Take it in");
  await taken(phone, rows.length);
  await half(phone, own().length);
  await phone.run(`location.hash = "#/files"`);
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", save(phone, "backup.txt", backup.text));
  await phone.see("would go: it is not in the backup", 120_000);
  await phone.tap("Replace the record: 700 batches go");
  await phone.see("The backup is in place.", 60_000);
  assert.deepEqual(texts((await stored(phone)).rows), texts(own()));
  await phone.kill();
  await phone.see("Pike, Anselm's bay");
  assert.ok(!(await phone.text()).includes("Perch"));
  await phone.run(`location.hash = "#/files"`);
  await phone.tap("Put back what was here before");
  await phone.see("The record is as it was.", 60_000);
  assert.deepEqual(texts((await stored(phone)).rows), texts([...own(), ...rows]));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

/// No room for rows of a kind.
const full = (which) => `
  window.keptPut ??= IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (value, key) {
    if (${which}) throw new DOMException("full", "QuotaExceededError");
    return window.keptPut.call(this, value, key);
  };`;

test("out of space: nothing is taken in by halves, and what was is not lost", async () => {
  const server = await serve(dist);
  const phone = await prepared(server);
  const rows = many(100, 500);
  await look(phone, save(phone, "record.txt", fileOf(rows)));
  await phone.run(full(`/^intake.*2$/.test(key)`));
  await phone.tap("Take it in");
  await phone.see("Nothing was taken in. The phone is out of space.");
  const none = await stored(phone);
  assert.equal(none.pieces, 0);
  assert.deepEqual(texts(none.rows), texts(own()));
  assert.ok(!(await phone.text()).includes("Nothing is being saved."));
  // Room for the pieces, not for the rows: it counts as taken in, and it is.
  await phone.run(full(`/^[0-9a-f]{32}.[0-9a-f]{32}$/.test(key) && key.startsWith("bb")`));
  await phone.tap("Take it in");
  await taken(phone, rows.length);
  assert.ok(!(await phone.text()).includes("Nothing is being saved."));
  await phone.see("And 451 older: show all", 60_000);
  const kept = await stored(phone);
  assert.deepEqual(kept.lines.sort(), texts(rows));
  assert.deepEqual(texts(kept.rows), texts(own()));
  // The file of an app that has stopped holds all of it once.
  const rescued = await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    const make = URL.createObjectURL;
    URL.createObjectURL = (blob) => { blob.text().then(done); return make.call(URL, blob); };
    import("./rescue.js").then(({ rescue }) => rescue("en").at(-1).click());`);
  const json = JSON.parse(rescued.slice(rescued.indexOf("\n\n")));
  assert.equal(json.events.length, rows.length + own().length);
  assert.match(rescued, new RegExp(`^Entries: ${json.events.length}$`, "m"));
  // The next opening has room.
  await phone.kill();
  await phone.see("Perch, haul 599");
  await whole(phone);
  assert.deepEqual(texts((await stored(phone)).rows), texts([...own(), ...rows]));
  await phone.close();
  await server.stop();
});

test("another tab sees it at once, adds to it, and sees it go", async () => {
  const server = await serve(dist);
  const phone = await prepared(server);
  const rows = many(100, 700);
  const first = await phone.driver.getWindowHandle();
  const second = await phone.tab(server.address);
  await phone.see("Pike, Anselm's bay");
  await phone.driver.switchTo().window(first);
  await look(phone, save(phone, "record.txt", fileOf(rows)));
  await phone.tap("Take it in");
  await taken(phone, rows.length);
  await phone.driver.switchTo().window(second);
  await phone.see("Perch, haul 799", 60_000);
  // A note of this tab's on a batch that is still in pieces, or just out of them.
  const [key] = batch({ number: 790, canned: 0 })[0];
  await phone.run(`location.hash = "#/batch/${key.split("/")[0]}"`);
  await phone.type("Note", "Seen at the other table");
  await phone.tap("Add the note");
  await phone.see("Seen at the other table");
  await phone.driver.switchTo().window(first);
  await phone.tap("Take them out again");
  await phone.until(async () => !(await phone.text()).includes("were taken in"), "it to be out", 60_000);
  await phone.driver.switchTo().window(second);
  await phone.run(`location.hash = ""`);
  await phone.until(async () => !(await phone.text()).includes("Perch"), "it to go here too", 60_000);
  await phone.reload();
  await phone.see("Pike, Anselm's bay");
  assert.ok(!(await phone.text()).includes("Perch"));
  const end = await stored(phone);
  assert.equal(end.pieces, 0);
  // What was added by hand stays, as it always has.
  assert.equal(end.rows.length, own().length + 1);
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("a browser without a digest of its own, and files that are not right", async () => {
  const server = await serve(dist);
  const phone = await prepared(server, { before: `Object.defineProperty(crypto, "subtle", { value: undefined });` });
  const rows = many(100, 200);
  const text = fileOf(rows);
  await look(phone, save(phone, "record.txt", text.replaceAll("\n", "\r\n")));
  await phone.see("And 150 batches more.");
  await phone.tap("Leave it");
  for (const [name, changed, said] of [
    ["changed", text.replace("haul 240", "haul 241"), "This record was changed on its way"],
    ["torn", text.replace(`"seq":9,`, `"seq":,`), "This record was changed on its way"],
    ["short", text.split("\n").filter((_, line) => line !== 400).join("\n"), "This record is cut off"],
    ["cut", text.slice(0, -9_000), "This record is cut off"],
  ]) {
    await choose(phone, "Choose a file", save(phone, `${name}.txt`, changed));
    await phone.see(said, 30_000);
  }
  const binary = save(phone, "binary.txt", Buffer.concat([Buffer.from(text), Buffer.from([0xff])]));
  await choose(phone, "Choose a file", binary);
  await phone.see("This is no Hearthjar record");
  assert.deepEqual(texts((await stored(phone)).rows), texts(own()));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
