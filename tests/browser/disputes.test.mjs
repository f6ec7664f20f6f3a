// Two phones that say different things: a drop within another's full time, and a seal.
// What is unsafe counts until a person settles it, and it is shown where it is due.
//
// One moment below the pressure and the full time starts over: USDA Complete Guide to
// Home Canning, Guide 1, p. 1-22 (2015).
import assert from "node:assert/strict";
import { test } from "node:test";
import { batch } from "./harness/pantry.mjs";
import { stocked } from "./harness/stocked.mjs";

const DAY = 86_400_000;
const OTHER = "d0".padEnd(32, "0");

/// One load of three jars, and what another phone tells of it.
const load = (said) => {
  const canned = Date.now() - 3 * DAY;
  const rows = batch({ number: 1, content: "Perch, Anselm's bay", canned, jars: 3 });
  const [batchName] = rows[0][0].split("/");
  const { load } = JSON.parse(rows[2][1]).what.ran;
  const told = said.map(([seq, minutes, what], place) => {
    const id = `f${place}`.padEnd(32, "0");
    const at = canned + minutes * 60_000;
    const text = JSON.stringify({ at, batch: batchName, id, phone: OTHER, seq, what: what(load) });
    return [`${batchName}/${id}`, text];
  });
  return { rows: [...rows, ...told], screen: `#/load/${batchName}/${load}` };
};

const dropped = (load) => ({ ran: { load, step: { dropped: "fuel_out" } } });
const lifted = (load) => ({ seal_checked: { load, jar: 2, seal: "not_sealed" } });

const start = async ({ rows }) => {
  const phone = await stocked(rows);
  await phone.see("Perch, Anselm's bay");
  return phone;
};

const looked = async (phone, name) => {
  await phone.views(`dispute-${name}`);
  assert.deepEqual(await phone.axe(), [], name);
};

test("a drop within the full time: seen on the day's screen, held, taken back", async () => {
  const phone = await start(load([[6, -50, dropped]]));
  await phone.see("Settle");
  await looked(phone, "today");
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("3 held.");
  await phone.tap("Perch, Anselm's bay");
  await phone.tap("1", { within: ".jars" });
  await phone.see("A held jar cannot be eaten or given.");
  await phone.see("Two phones disagree whether the pressure held.");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Settle");
  await phone.see("Two phones disagree whether the pressure held.");
  await phone.see("the pressure dropped");
  await looked(phone, "load");
  await phone.tap("That was a mistake: take it back");
  await phone.until(async () => !(await phone.text()).includes("disagree"), "settled");
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("3 × pint, ");
  assert.ok(!(await phone.text()).includes("held."));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("a drop that is true: the jars go out", async () => {
  const phone = await start(load([[40, -50, dropped]]));
  await phone.tap("Settle");
  await phone.tap("It is true: the jars go out");
  await phone.see("Jars in doubt");
  await phone.see("3 jars thrown out");
  await phone.tap("Today", { within: "nav" });
  await phone.see("Nothing is on the stove and nothing is due.");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("a seal two phones disagree about counts as not sealed until one word is taken back", async () => {
  const told = load([[10, 900, lifted]]);
  const phone = await start(told);
  await phone.run("location.hash = arguments[0]", told.screen);
  await phone.see("Two phones say different things about jar 2.");
  await phone.see("3 of 3 checked. 2 sealed.");
  await looked(phone, "seal");
  await phone.tap("Take back: jar 2: not sealed");
  await phone.see("3 of 3 checked. 3 sealed.");
  assert.ok(!(await phone.text()).includes("Two phones"));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});
