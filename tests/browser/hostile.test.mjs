// Text from a file is text: names that look like markup or script are shown as they
// are on every screen of both halves, and nothing is asked of anyone.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";

const HOSTILE = `<img src=http://evil.example/x onerror="window.broke=1"><script>window.broke=2</script>"'>&lt;`;
const id = (number) => number.toString(16).padStart(32, "0");
const BATCH = id(0xbad);
const LOAD = id(2);

/// The record file around some events, written as src/exchange/record_file.rs says.
const file = (events) => {
  const json = `{"events":[\n${events.map((event) => JSON.stringify(event)).join(",\n")}\n]}`;
  const digest = createHash("sha256").update(json).digest("hex");
  return `Hearthjar record 1\nA record.\nEntries: ${events.length}\nSHA-256: ${digest}\n\n${json}\n`;
};

/// A whole batch, every text in it hostile; taken from one that the app wrote.
const hostile = (rows) => {
  const start = Date.now() - 40 * 3_600_000;
  const ours = rows.map((row) => JSON.parse(row));
  const what = (kind) => structuredClone(ours.find((event) => event.what[kind]).what);
  const begun = what("batch_started");
  Object.assign(begun.batch_started, { content: HOSTILE, place: HOSTILE });
  const plan = what("load_planned");
  Object.assign(plan.load_planned, { canner: HOSTILE, publication: HOSTILE, jars: 2 });
  let seq = 0;
  const at = (minutes, body, name = id(100 + seq), batch = BATCH) =>
    ({ id: name, batch, seq: seq += 1, at: start + minutes * 60_000, what: body });
  const ran = (minutes, step) => at(minutes, { ran: { load: LOAD, step } });
  const events = [
    at(0, begun, id(1)),
    at(0, plan, LOAD),
    at(1, { noted: { load: null, text: HOSTILE } }),
    ran(2, "heat_on"), ran(20, "steam_steady"), ran(31, "vent_closed"), ran(40, "at_pressure"),
    ran(160, "heat_off"), ran(200, "weight_off"), ran(212, "lid_opened"), ran(214, "unloaded"),
    at(1000, { seal_checked: { load: LOAD, jar: 1, seal: "sealed" } }),
    at(1000, { seal_checked: { load: LOAD, jar: 2, seal: "sealed" } }),
    at(1001, { shelved: { load: LOAD, place: HOSTILE } }),
    at(1002, { lids_used: { load: LOAD, lot: HOSTILE } }),
  ];
  // A second batch stands at the stove, and the household has a canner and a place.
  const second = id(0xbae);
  const running = id(0xf00);
  seq = 0;
  events.push(at(2300, begun, id(0xe01), second), at(2300, plan, running, second),
    at(2301, { ran: { load: running, step: "heat_on" } }, id(0xe03), second));
  seq = 0;
  const household = "0".repeat(32);
  events.push(
    at(0, { canner_kept: { canner: id(0x50), name: HOSTILE, gauge: "dial", quarts: 16, gone: false } }, id(0xe10), household),
    at(0, { place_kept: { place: id(0x51), name: HOSTILE, altitude: 640, gone: false } }, id(0xe11), household));
  return { events, running, second };
};

test("hostile names stay text on every screen, and nobody is asked for anything", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.tap("I have read this");
  await phone.tap("Can something");
  await phone.type("Height above sea level", "640");
  await phone.type("What is in the jars", "Pike");
  await phone.tap("Start:");
  await phone.see("Load the canner");
  const { events, running, second } = hostile(await phone.rows());
  await phone.tap("Hand over", { within: "nav" });
  await phone.type("Or paste its text", file(events));
  await phone.tap("Look at the pasted text");
  await phone.see("<img src=http://evil.example");
  await phone.tap("Take it in");
  await phone.see("entries were taken in");
  // Every route the app knows: found in its own links, screen by screen.
  const seen = new Set();
  const open = ["#/", `#/batch/${BATCH}`, `#/load/${BATCH}/${LOAD}`, `#/batch/${second}`, `#/load/${second}/${running}`];
  const own = await phone.run("return location.href.split('#')[0]");
  let shown = 0;
  while (open.length > 0) {
    const hash = open.shift();
    if (seen.has(hash) || seen.size > 60) continue;
    seen.add(hash);
    await phone.run("location.hash = arguments[0]", hash);
    await phone.until(async () => (await phone.title()) !== undefined && !(await phone.text()).includes("Opening…")
      && !(await phone.text()).includes("Reading the record"), `a screen at ${hash}`, 20_000);
    const found = await phone.run(`
      for (const more of document.querySelectorAll("details")) more.open = true;
      return {
        markup: document.querySelectorAll("main img[src^='http'], main script, [onerror], iframe").length,
        broke: window.broke ?? null,
        text: document.body.innerText.includes("<img src=http"),
        links: [...document.querySelectorAll("a[href*='#']")].map((a) => new URL(a.href))
          .filter((url) => url.href.startsWith(arguments[0])).map((url) => url.hash),
        odd: [...document.querySelectorAll("a[href]")].map((a) => a.href)
          .filter((href) => !href.startsWith(arguments[0]) && !href.startsWith("blob:")),
      };`, own);
    assert.equal(found.markup, 0, hash);
    assert.equal(found.broke, null, hash);
    assert.deepEqual(found.odd, [], hash);
    if (found.text) shown += 1;
    open.push(...found.links.filter((link) => link !== "#title"));
  }
  console.log(`${seen.size} screens looked at, hostile text on ${shown} of them`);
  assert.ok(shown >= 5, `hostile text was on ${shown} screens only`);
  assert.ok(["#/shelf", "#/more"].every((hash) => seen.has(hash)), [...seen].join(" "));
  const foreign = (await phone.requests())
    .filter((url) => !url.startsWith(server.address) && !/^(data|blob|chrome|about):/.test(url));
  assert.deepEqual(foreign, []);
  // Not even the policy had anything to stop.
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
