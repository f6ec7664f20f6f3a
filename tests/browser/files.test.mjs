// Files out and in: tables and calendar read back by independent parsers, a batch
// passed by a picture, a backup put in the record's place and that taken back. The
// host is gone for most of it.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { test } from "node:test";
import { By } from "selenium-webdriver";
import { serve } from "../../.ci/serve.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { choose, download, save } from "./harness/files.mjs";
import { begin, rest, runStages, smoked } from "./harness/job.mjs";

const require = createRequire(import.meta.url);
const Papa = require("papaparse");
const jsQR = require("jsqr");
const { default: ICAL } = await import("ical.js");

const go = (phone, hash) => phone.run("location.hash = arguments[0]", hash);

/// A finished load of seven: five sealed, one not, one broken.
const finished = async (phone) => {
  await smoked(phone);
  const load = await phone.run("return location.hash");
  await runStages(phone);
  await phone.see(rest.title);
  await phone.pass(rest.minutes);
  await phone.see("Check the seals");
  for (const jar of [1, 2, 3, 4, 5]) await phone.tap(`${jar} not checked`, { within: ".jars" });
  await phone.tap("Not sealed", { within: ".modes" });
  await phone.tap("6 not checked", { within: ".jars" });
  await phone.tap("Broken", { within: ".modes" });
  await phone.tap("7 not checked", { within: ".jars" });
  await phone.see("7 of 7 checked. 5 sealed.");
  return load.split("/")[2];
};

test("tables and calendar, read by independent parsers", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  const batch = await finished(phone);
  await go(phone, `#/batch/${batch}`);
  await phone.type("Note", "=2+5, \"said\" Alva");
  await phone.tap("Add the note");
  await phone.see("said");
  await go(phone, "#/canners");
  await phone.see("Add the canner");
  await phone.type("Name of a canner", "Blue; one, “old”");
  await phone.tap("dial gauge");
  await phone.tap("Add the canner");
  await phone.tap("Check the gauge");
  await phone.tap("Record the check");
  await phone.see("This dial read true");
  await server.stop();
  await phone.reload();
  await go(phone, "#/files");
  await phone.see("Jars as a table");

  // RFC 4180 by papaparse: no error, one width, seven jars.
  const parse = ({ name, bytes, text }) => {
    assert.match(name, /^hearthjar-(jars|batches)-\d{4}-\d\d-\d\d\.csv$/);
    assert.deepEqual([...bytes.subarray(0, 3)], [0xef, 0xbb, 0xbf]);
    const { data, errors, meta } = Papa.parse(text, { header: true, delimiter: ",", newline: "\r\n", skipEmptyLines: "greedy" });
    assert.deepEqual(errors, []);
    assert.equal(meta.fields[0].replace("\ufeff", ""), "content");
    return data.map((row) => Object.fromEntries(Object.entries(row).map(([key, cell]) => [key.replace("\ufeff", ""), cell])));
  };
  const jars = parse(await download(phone, () => phone.tap("Jars as a table")));
  assert.equal(jars.length, 7);
  assert.deepEqual(jars.map((row) => row.state), ["sealed", "sealed", "sealed", "sealed", "sealed", "not sealed", "broken"]);
  assert.equal(jars[0].content, "Smoked whitefish, Lake Ostermere");
  assert.deepEqual([jars[0].pack, jars[0].minutes, jars[0].psi, jars[0].gauge, jars[0]["altitude ft"]],
    ["lightly smoked", "110", "13", "dial gauge", "5200"]);
  assert.equal(jars[0].batch, batch);
  assert.ok(!Number.isNaN(Date.parse(jars[0]["canned (UTC)"])));
  const batches = parse(await download(phone, () => phone.tap("Batches as a table")));
  assert.equal(batches.length, 1);
  // A note that begins like a formula is text in every spreadsheet (OWASP).
  assert.equal(batches[0].notes, "'=2+5, \"said\" Alva");
  for (const row of [...jars, ...batches]) {
    for (const cell of Object.values(row)) assert.ok(!/^\s*[=+\-@]/.test(cell), cell);
  }

  // RFC 5545 by ical.js.
  const calendar = async () => {
    const { name, bytes, text } = await download(phone, () => phone.tap("Reminders for my calendar"));
    assert.match(name, /\.ics$/);
    for (const line of text.split("\r\n")) assert.ok(Buffer.byteLength(line) <= 75, line);
    assert.equal(bytes.filter((byte) => byte === 10).length, text.split("\r\n").length - 1);
    const root = new ICAL.Component(ICAL.parse(text));
    assert.equal(root.getFirstPropertyValue("version"), "2.0");
    return root.getAllSubcomponents("vevent").map((one) => new ICAL.Event(one));
  };
  const first = await calendar();
  const of = (events, kind) => events.find((event) => event.uid.endsWith(`-${kind}@hearthjar.invalid`));
  assert.deepEqual(first.map((event) => event.uid.split("@")[0].split("-").slice(1).join("-")).sort(), ["best-by", "gauge", "unsealed"]);
  const hold = Date.parse(jars[0]["canned (UTC)"]);
  // 24 h after the full time (Guide 1, p. 1-26), in UTC, with an alarm before it.
  const unsealed = of(first, "unsealed");
  assert.equal(unsealed.startDate.zone, ICAL.Timezone.utcTimezone);
  assert.ok(Math.abs(unsealed.startDate.toJSDate().getTime() - hold - 24 * 3_600_000) < 1_000);
  assert.ok(unsealed.summary.endsWith("Smoked whitefish, Lake Ostermere, load 1"));
  const alarm = unsealed.component.getFirstSubcomponent("valarm");
  assert.equal(alarm.getFirstPropertyValue("trigger").toSeconds(), -7_200);
  // A day of the calendar, a year on (Guide 1, p. 1-12 and p. 1-20).
  const best = of(first, "best-by");
  assert.ok(best.startDate.isDate);
  assert.equal(best.startDate.toString(), jars[0]["best by (local)"]);
  assert.ok(of(first, "gauge").summary.endsWith("Blue; one, “old”"));
  for (const event of first) assert.ok(event.component.getFirstPropertyValue("dtstamp").toString().endsWith("Z"));
  // A second writing replaces the first: same names, a higher sequence (RFC 5546).
  await phone.pass(3);
  const second = await calendar();
  assert.deepEqual(second.map((event) => event.uid).sort(), first.map((event) => event.uid).sort());
  for (const event of second) {
    const old = first.find((one) => one.uid === event.uid);
    assert.ok(event.sequence > old.sequence, `${event.sequence} after ${old.sequence}`);
  }
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

/// The pixels of the picture on the screen, as jsqr wants them.
const pixels = async (phone) => {
  const svg = await phone.driver.findElement(By.css("svg.code"));
  await phone.run("arguments[0].scrollIntoView({ block: 'center' })", svg);
  const png = await svg.takeScreenshot();
  const { width, height, data } = await phone.driver.executeAsyncScript(`
    const done = arguments[1];
    const image = new Image();
    image.onload = () => {
      const canvas = document.createElement("canvas");
      canvas.width = image.width; canvas.height = image.height;
      const context = canvas.getContext("2d");
      context.drawImage(image, 0, 0);
      const { data } = context.getImageData(0, 0, image.width, image.height);
      // One byte a pixel is enough: the picture has no colours.
      let grey = "";
      for (let i = 0; i < data.length; i += 4) grey += String.fromCharCode(data[i]);
      done({ width: image.width, height: image.height, data: btoa(grey) });
    };
    image.src = "data:image/png;base64," + arguments[0];`, png);
  const grey = Buffer.from(data, "base64");
  const rgba = new Uint8ClampedArray(grey.length * 4);
  grey.forEach((value, at) => rgba.set([value, value, value, 255], at * 4));
  return [rgba, width, height];
};

test("a batch passes by its picture, in light and dark, and back again by pasting", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  const batch = await finished(phone);
  const rows = await phone.rows();
  await server.stop();
  await phone.reload();
  await go(phone, `#/batch/${batch}`);
  await phone.tap("Picture code for another phone");
  await phone.see("On the other phone");
  const shown = await phone.run("return document.querySelector('.digits-text').textContent");
  // A phone's screen has two or three dots to a CSS pixel; so has this one now.
  const read = async (view, dark) => {
    await phone.look(view, dark);
    await phone.cdp("Emulation.setDeviceMetricsOverride", { width: view[0], height: view[1], deviceScaleFactor: 2, mobile: true });
    const found = jsQR(...await pixels(phone));
    assert.ok(found, `no code was found in ${view}`);
    return found.data;
  };
  const text = await read(size.portrait, false);
  assert.equal(text, shown);
  assert.match(text, /^HEARTHJAR CODE 1 \d+ \d+$/);
  assert.equal(await read(size.narrow, true), shown);
  await phone.look(size.landscape);
  await phone.shot("picture-landscape");
  await phone.look(size.narrow, true);
  await phone.shot("picture-narrow");
  await phone.look(size.portrait);
  assert.deepEqual(await phone.axe(), []);
  await phone.shot("picture-portrait");
  await phone.close();

  // The other phone: the text, broken by a messenger, is looked at and taken in.
  await server.start();
  const other = await Phone.open(server.address);
  await other.tap("I have read this");
  await other.tap("Hand over", { within: "nav" });
  await other.see("Or paste its text");
  const field = "Or paste its text, or that of a picture code";
  await other.type(field, text.slice(0, -1));
  await other.tap("Look at the pasted text");
  await other.see("This record is cut off");
  await other.type(field, text.replace(/\d(\d)$/, (two, last) => `${(Number(two[0]) + 1) % 10}${last}`));
  await other.tap("Look at the pasted text");
  await other.see("This record was changed on its way");
  assert.deepEqual(await other.rows(), []);
  await other.type(field, text.toLowerCase().replace(/(\d{40})/g, "$1\r\n "));
  await other.tap("Look at the pasted text");
  await other.see("Smoked whitefish, Lake Ostermere");
  await other.see(": new");
  await other.tap("Take it in");
  await other.see("entries were taken in");
  assert.deepEqual(await other.rows(), rows);
  assert.deepEqual(await other.complaints(), []);
  await other.close();
  await server.stop();
});

test("a restore replaces the record, can be taken back after a kill, and never while hot", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  const batch = await finished(phone);
  await server.stop();
  await go(phone, "#/files");
  const backup = await download(phone, () => phone.tap("Save a backup"));
  assert.match(backup.name, /^hearthjar-backup-\d{4}-\d\d-\d\d\.txt$/);
  await phone.see("Last backup: ");
  const before = await phone.rows();
  const path = save(phone, "backup.txt", backup.text);

  // The same record: nothing to do.
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", path);
  await phone.see("The backup and this phone are the same.");

  // Something new since: a note on the old batch, and a new batch.
  await go(phone, `#/batch/${batch}`);
  await phone.type("Note", "Opened one, fine");
  await phone.tap("Add the note");
  await phone.see("Opened one, fine");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Can something");
  await phone.type("What is in the jars", "Perch, Lake Ostermere");
  await phone.tap("Start: 110 min at 13 psi");
  await phone.see("Load the canner");
  const more = await phone.rows();
  await phone.tap("Heat is on");
  await phone.see("Wait for steady steam");
  await go(phone, "#/files");
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", path);
  await phone.see("Perch, Lake Ostermere");
  await phone.see("would go: it is not in the backup");
  await phone.see("1 entry would go");
  await phone.tap("Replace the record: 1 batch goes");
  await phone.see("A canner is hot. Finish that run first");
  assert.equal((await phone.rows()).length, more.length + 1);
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Perch, Lake Ostermere, load 1");
  await phone.tap("Take back the last tap");
  await phone.see("Load the canner");
  const latest = await phone.rows();

  // A file that is none, or was changed, replaces nothing.
  await go(phone, "#/files");
  const whole = save(phone, "whole.txt", (await download(phone, () => phone.tap("Save a backup"))).text);
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", save(phone, "no.txt", "Not a record"));
  await phone.see("This is no Hearthjar record");
  await choose(phone, "Choose a backup", save(phone, "cut.txt", backup.text.slice(0, -40)));
  await phone.see("cut off");
  assert.deepEqual(await phone.rows(), latest);

  // A write that fails half-way leaves the old record whole.
  await choose(phone, "Choose a backup", path);
  await phone.see("would go: it is not in the backup");
  await phone.shot("restore");
  assert.deepEqual(await phone.axe(), []);
  await phone.run(`
    window.keptPut = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };`);
  await phone.tap("Replace the record: 1 batch goes");
  await phone.see("Nothing was replaced. The phone is out of space.");
  assert.deepEqual(await phone.rows(), latest);
  await phone.run("IDBObjectStore.prototype.put = window.keptPut");
  await phone.tap("Replace the record: 1 batch goes");
  await phone.see("The backup is in place.");
  const events = async () => (await phone.rows()).filter((row) => !row.includes('"come":'));
  assert.deepEqual(await events(), before);
  // The stove's half has followed.
  await phone.tap("Today", { within: "nav" });
  await phone.see("Smoked whitefish");
  assert.ok(!(await phone.text()).includes("Perch"));

  // Another restore would write over the way back: not before that is decided.
  await go(phone, "#/files");
  await phone.see("a backup took the place of the record here");
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", whole);
  await phone.see("First decide about the last restore");
  assert.ok(!(await phone.text()).includes("Replace the record"));
  await phone.tap("Leave it");
  await phone.tap("Keep the backup for good");
  await phone.tap("Not yet");
  assert.deepEqual(await events(), before);

  // Killed, opened again without a host: still the backup, and still a way back.
  await phone.kill();
  assert.ok(!(await phone.text()).includes("could not be read"));
  await go(phone, "#/files");
  await phone.see("a backup took the place of the record here");
  await phone.tap("Put back what was here before");
  await phone.see("The record is as it was.");
  assert.deepEqual(await phone.rows(), latest);
  await phone.tap("Today", { within: "nav" });
  await phone.see("Perch, Lake Ostermere");

  // Kept for good, the record of before goes, and the next restore is free.
  await go(phone, "#/files");
  await phone.tap("Restore a backup");
  await choose(phone, "Choose a backup", path);
  await phone.tap("Replace the record: 1 batch goes");
  await phone.see("The backup is in place.");
  await phone.tap("Keep the backup for good");
  await phone.tap("For good: what was here before goes");
  await phone.see("What was here before it is gone.");
  assert.deepEqual(await phone.rows(), before);
  await phone.until(async () => !(await phone.text()).includes("took the place"), "no way back");
  await choose(phone, "Choose a backup", whole);
  await phone.see("Replace the record");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("an old backup is spoken of, and only while something is new", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  const days = async (count) => {
    await phone.jump(count * 24 * 60);
    await phone.reload();
    await phone.tap("Today", { within: "nav" });
    await phone.see("Batches");
  };
  await days(29);
  assert.ok(!(await phone.text()).includes("no backup"));
  await days(2);
  await phone.see("This record is 31 days old and has no backup.");
  await phone.tap("Back up");
  await phone.see("Save a backup");
  await download(phone, () => phone.tap("Save a backup"));
  await phone.see("Last backup: ");
  await days(40);
  assert.ok(!(await phone.text()).includes("last backup"));
  await phone.tap("Can something");
  await phone.tap("Start: 110 min at 13 psi");
  await phone.see("Load the canner");
  await phone.tap("Today", { within: "nav" });
  await phone.see("The last backup is 40 days old, and there is more since.");
  await phone.shot("today-backup");
  await phone.tap("Back up");
  await phone.see("The last backup is 40 days old");
  for (const [name, view, dark] of [["portrait", size.portrait], ["landscape", size.landscape],
    ["narrow", size.narrow], ["dark", size.portrait, true]]) {
    await phone.look(view, dark);
    await phone.shot(`files-${name}`);
    assert.ok(await phone.run("return document.documentElement.scrollWidth <= innerWidth"), `${name} scrolls sideways`);
    assert.deepEqual(await phone.axe(), []);
  }
  await phone.close();
  await server.stop();
});
