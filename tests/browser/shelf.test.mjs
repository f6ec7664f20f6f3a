// The shelf by taps, with no connection: search, take out, move, hold for a doubt
// and free again; the year; every screen looked over for access.
import assert from "node:assert/strict";
import { test } from "node:test";
import { size } from "./harness/browser.mjs";
import { batch, canner } from "./harness/pantry.mjs";
import { stocked } from "./harness/stocked.mjs";

const DAY = 86_400_000;
const ago = (days) => Date.now() - days * DAY;

const household = () => [
  ...canner({ number: 1, name: "Big canner",
    checks: [[ago(300), 11, 11], [ago(20), 13, 11]] }),
  // Before the good check, between the two, and after the bad one, set higher for it.
  ...batch({ number: 1, content: "Old pike, Lake Ostermere", dial: true, canner: "Big canner", canned: ago(400) }),
  ...batch({ number: 2, content: "Whitefish, Lake Ostermere", dial: true, canner: "Big canner",
    canned: ago(100), lids: "L-204", place: "Cellar, right", unsealed: [3], eaten: [1] }),
  ...batch({ number: 3, content: "Perch, Anselm's bay", dial: true, canner: "Big canner", canned: ago(5), added: 2 }),
  ...batch({ number: 4, content: "Trout, Tove's net", canned: ago(90), jars: 6, lids: "L-310", place: "Cabin" }),
];

const start = async (rows = household()) => {
  const phone = await stocked(rows);
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("oldest first");
  return phone;
};

const shots = (phone, name) => phone.views(`shelf-${name}`);

const clean = async (phone, name) => assert.deepEqual(await phone.axe(), [], name);

test("jars are found, taken out and moved, offline", async () => {
  const phone = await start();
  await phone.see("28 jars in 4 lots, oldest first.");
  const first = () => phone.run("return document.querySelector('.row-line b').innerText");
  assert.equal(await first(), "Old pike, Lake Ostermere");
  await phone.see("Past its best:");
  await clean(phone, "shelf");
  await shots(phone, "list");

  await phone.type("Search: food, size, place, lids", "cabin TROUT");
  await phone.see("6 jars.");
  assert.equal(await first(), "Trout, Tove's net");
  await phone.tap("Trout, Tove's net");
  await phone.see("Tap the jars you take");
  await phone.see("1 jar:");
  await clean(phone, "lot");
  await shots(phone, "lot");
  await phone.tap("2", { within: ".jars" });
  await phone.see("2 jars:");
  await phone.tap("Spoiled");
  await phone.see("2 taken out. Do not taste it");
  await phone.tap("Undo");
  await phone.until(async () => (await phone.run("return document.querySelectorAll('.tile').length")) === 6, "the jars back");
  await phone.tap("Eaten");
  await phone.see("Taken out. Once open: refrigerate at once");
  const tiles = (count) => phone.until(async () =>
    (await phone.run("return document.querySelectorAll('.tile').length")) === count, `${count} jars`);
  await tiles(5);
  // The next jar is picked already: one tap more takes it.
  await phone.tap("Eaten");
  await tiles(4);
  await phone.type("Where they stand now", "Boat house");
  await phone.tap("Move the picked jars");
  await phone.see("Moved.");
  await phone.run("history.back()");
  // The search is as it was left.
  await phone.see("3 jars.");
  await phone.type("Search: food, size, place, lids", "boat");
  await phone.see("1 jar.");
  await phone.reload();
  await phone.see("26 jars in 5 lots");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("a dial that read high holds exactly its jars", async () => {
  const phone = await start();
  await phone.tap("Jars in doubt");
  await phone.see("No jar is in doubt on record.");
  await phone.tap("A dial read high");
  // The one load between the good check and the bad one: 8 jars, one eaten.
  await phone.see("7 in the house");
  await phone.see("1 eaten");
  await phone.see("Whitefish, Lake Ostermere, load 1");
  const text = await phone.text();
  assert.ok(!text.includes("Old pike") && !text.includes("Perch"), "cleared loads are listed");
  await clean(phone, "new doubt");
  await shots(phone, "doubt-new");
  await phone.tap("Hold 7 jars");
  await phone.see("On record");
  await phone.see("7 jars held.");
  await shots(phone, "doubts");
  await phone.tap("Shelf", { within: ".over-title" });
  await phone.see("6 held.");
  await shots(phone, "held");
  await phone.tap("Narrow it down");
  await phone.run(`
    const only = [...document.querySelectorAll("select")].at(-1);
    only.value = "0";
    only.dispatchEvent(new Event("change", { bubbles: true }));`);
  await phone.see("6 jars.");
  await phone.tap("Whitefish");
  await phone.see("Held: ");
  await phone.tap("2", { within: ".jars" });
  await phone.see("A held jar cannot be eaten or given.");
  const eaten = () => phone.run(`
    return [...document.querySelectorAll("button.mode")].find((b) => b.innerText === "Eaten").disabled`);
  assert.equal(await eaten(), true);
  await clean(phone, "held lot");
  await shots(phone, "lot-held");

  // It holds after a reload, and is freed only with a reason.
  await phone.tap("The doubts");
  await phone.reload();
  await phone.see("7 jars held.");
  await phone.tap("Lift this doubt");
  await phone.tap("Lift it and free the jars");
  await phone.see("Say why");
  await phone.type("Why it is lifted", "The standard was wrong, not the dial");
  await phone.tap("Lift it and free the jars");
  await phone.see("The standard was wrong, not the dial");
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("28 jars in 4 lots");
  assert.ok(!(await phone.text()).includes("held."));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("lids that fail and a dip seen too late are thrown out, and the year sums it up", async () => {
  const phone = await start();
  await phone.tap("Trout, Tove's net");
  await phone.tap("Something was wrong with this load");
  await phone.tap("The pressure fell and it was noticed too late");
  await phone.see("6 in the house");
  await phone.tap("Thrown out: all 6 jars");
  await phone.see("6 jars thrown out.");
  await phone.tap("Undo");
  await phone.see("No jar is in doubt on record.");
  await phone.tap("The pressure fell and it was noticed too late");
  await phone.tap("Thrown out: all 6 jars");
  await phone.see("6 jars thrown out.");
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("22 jars in 3 lots");
  await phone.tap("Jars by year");
  const year = await phone.run("return new Date().getFullYear()");
  await phone.see(String(year));
  await clean(phone, "year");
  await shots(phone, "year");
  // Whatever the date today, the two years together hold all that happened lately.
  const cells = async () => phone.run(`
    return [...document.querySelectorAll(".figures b")].map((b) => Number(b.innerText));`);
  let [up, eaten, given, thrown] = await cells();
  if (await phone.run(`return ![...document.querySelectorAll("button")].find((b) => b.ariaLabel?.startsWith("Year before")).disabled`)) {
    await phone.tap("Year before");
    await phone.see(String(year - 1));
    const before = await cells();
    if (before.length) [up, eaten, given, thrown] = [up + before[0], eaten + before[1], given + before[2], thrown + before[3]];
  }
  assert.deepEqual([eaten, given, thrown], [1, 0, 6]);
  assert.ok(up >= 21, `${up} put up`);
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("ten thousand jars: only the rows in view are in the page", async () => {
  const many = Array.from({ length: 1_000 }, (_, number) => batch({ number: number + 10, jars: 10,
    content: number % 7 ? "Char" : "Trout, Ostermere", canned: ago(3 + number * 0.3) })).flat();
  const phone = await start(many);
  await phone.see("10000 jars in 1000 lots", 30_000);
  const seen = () => phone.run(`
    const rows = [...document.querySelectorAll(".row-line")];
    const view = document.querySelector(".long").getBoundingClientRect();
    const shown = rows.filter((r) => { const b = r.getBoundingClientRect(); return b.bottom > view.top && b.top < view.bottom; });
    return { rows: rows.length, places: rows.map((r) => Number(r.getAttribute("aria-posinset"))),
      size: rows[0]?.getAttribute("aria-setsize"), shown: shown.length,
      covered: shown.reduce((sum, r) => sum + r.getBoundingClientRect().height, 0) };`);
  const far = async (part) => {
    await phone.run("const p = document.querySelector('.long'); p.scrollTop = p.scrollHeight * arguments[0];", part);
    await phone.until(async () => (await seen()).shown >= 5, "the rows there");
    const now = await seen();
    assert.ok(now.rows < 40, `${now.rows} rows`);
    assert.ok(now.places.every((place, index) => index === 0 || place === now.places[index - 1] + 1), "in order");
    assert.equal(now.size, "1000");
    return now;
  };
  assert.ok((await far(0.5)).places[0] > 400);
  assert.equal((await far(1)).places.at(-1), 1_000);
  const last = await phone.run("return [...document.querySelectorAll('.row-line b')].at(-1).innerText");
  assert.equal(last, "Trout, Ostermere"); // number 0, the youngest
  await phone.look(size.landscape);
  await phone.look(size.portrait);
  await far(0.25);
  await phone.type("Search: food, size, place, lids", "ostermere");
  await phone.see("1430 jars in 143 lots");
  await phone.close();
});
