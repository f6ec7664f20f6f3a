// Planning a day by taps: from the weight of the fish to loads, hours, a list and a
// batch; what is missing, refused or remembered on the way; all of it without the host.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";

/// A phone with a canner of its own, at the planner. Its clock stands in a zone whose
/// clocks change.
const atPlan = async (server, options = {}) => {
  const phone = await Phone.open(server.address, options);
  await phone.cdp("Emulation.setTimezoneOverride", { timezoneId: "America/Anchorage" });
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await phone.kept();
  await phone.tap("More", { within: "nav" });
  await phone.tap("Canners and places");
  await phone.see("Add the canner");
  await phone.type("Name of a canner", "Blue");
  await phone.tap("Add the canner");
  await phone.see("weighted gauge, 16 qt");
  await phone.see("Count its jars");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Plan a day");
  await phone.see("Plan a canning day");
  return phone;
};

/// Chooses in the list called `name`.
const choose = async (phone, name, value) => {
  await phone.run(`
    const label = [...document.querySelectorAll("label.field")].find((l) =>
      l.querySelector(".name").innerText === arguments[0]);
    const select = label.querySelector("select");
    select.value = arguments[1];
    select.dispatchEvent(new Event("change", { bubbles: true }));`, name, value);
};

test("thirty pounds of fish to a batch with its loads, without the host", async () => {
  const server = await serve(dist);
  const phone = await atPlan(server);
  await server.stop();
  await phone.see("Give the altitude");
  await phone.type("Weight, lb", "30");
  await phone.type("Height above sea level, ft", "640");
  await phone.type("What to call it, if you like", "Trout, Lake Ostermere");
  // 25 to 35 lb a dozen pints (Michigan State University Extension no. 01600573, 1997).
  await phone.see("10 to 14 × pint");
  await phone.see("01600573");
  // 8 to 9 pints a load (USDA Complete Guide to Home Canning, Guide 1, p. 1-17), 100 min
  // (Guide 5, pp. 5-10 and 5-11).
  await phone.see("8 pint jars on Blue: 100 min at 10 psi");
  await phone.see("6 pint jars on Blue: 100 min at 10 psi (perhaps not full)");
  await phone.tap("List", { within: ".modes" });
  await phone.see("New flat lids, one a jar");
  await phone.tap("New flat lids", { within: ".ticks" });
  await phone.see("1 of ");
  await phone.reload();
  // The tick, the view and all that was typed are still there.
  await phone.see("New flat lids, one a jar");
  await phone.see("1 of ");
  await phone.tap("Plan", { within: ".modes" });
  await phone.see("10 to 14 × pint");
  await phone.tap("Begin: 2 loads");
  await phone.see("Trout, Lake Ostermere");
  await phone.tap("Today", { within: "nav" });
  await phone.see("Planned: load the canner");
  const rows = await phone.rows();
  const planned = rows.map((row) => JSON.parse(row).what.load_planned).filter(Boolean);
  assert.deepEqual(planned.map((load) => load.jars).sort(), [6, 8]);
  assert.ok(planned.every((load) => load.minutes === 100 && load.canner === "Blue"));
  await phone.tap("Plan a day");
  // It is not begun a second time.
  await phone.see("Go to the batch");
  assert.ok(!(await phone.text()).includes("Begin: "));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});

test("smoked fish across the change of the clocks; a quart is refused", async () => {
  const server = await serve(dist);
  const phone = await atPlan(server);
  await choose(phone, "Food", "smoked-fish");
  await phone.type("Weight, lb", "5");
  await phone.type("Height above sea level, ft", "640");
  // About 2/3 lb a pint (Univ. of Alaska Fairbanks FNH-00223).
  await phone.see("7 × pint");
  await phone.tap("Your own times and fuel");
  await phone.type("In the smoke, 120 at most", "180");
  await phone.see("Fish for canning is smoked for 2 hours at most");
  await phone.type("In the smoke, 120 at most", "60");
  await phone.type("In the brine", "60");
  await phone.type("Drip and dry", "30");
  await phone.type("Pack and load one canner", "30");
  await phone.type("Take the jars out", "10");
  // 60 + 30 + 60 + 30, then 15 + 10 + 5 + 110 + 60 + 10 + 10 minutes: 6 h 40 min. The
  // clocks go back at 2:00 on 1 November 2026, so 4:00 less 6 h 40 min is 22:20 by
  // the clock, not 21:20.
  await phone.type("Date", "2026-11-01");
  await phone.type("Time", "04:00");
  await phone.see("Start by");
  await phone.see("2026-10-31, 10:20 pm");
  await phone.see("6 h 40 min in all");
  await phone.see("The clocks change during this day");
  await phone.type("Time", "01:30");
  await phone.see("this time comes twice: the first is meant");
  await phone.type("Time", "04:00");
  await phone.tap("Day", { within: ".modes" });
  await phone.see("Hold at pressure");
  const hours = await phone.run("return [...document.querySelectorAll('.hours li')].map((l) => l.innerText)");
  assert.equal(hours.length, 3 + 9);
  await phone.tap("Plan", { within: ".modes" });
  // More than a day after smoking (PNW 450): nothing can be begun.
  await phone.type("Weight, lb", "45");
  await phone.see("would stand over a day after smoking");
  await phone.see("Not like this: see why");
  assert.ok(!(await phone.text()).includes("Begin: "));
  await phone.type("Weight, lb", "5");
  await phone.see("Begin: 1 load");
  await choose(phone, "Size", "quart");
  await phone.see("No safe time has been worked out for smoked fish in jars larger than one pint.");
  assert.ok(!(await phone.text()).includes("Begin: "));
  await phone.close();
  await server.stop();
});

test("units are remembered, a count of jars is asked for once, weights are written down", async () => {
  const server = await serve(dist);
  const phone = await atPlan(server);
  await phone.type("Weight, lb", "30");
  await phone.type("Height above sea level, ft", "640");
  await phone.tap("kg, m");
  await phone.until(async () => (await phone.run(`
    return [...document.querySelectorAll("label.field")].find((l) =>
      l.innerText.startsWith("Weight"))?.querySelector("input").value`)) === "13.6", "kilograms");
  await choose(phone, "Size", "half-pint");
  await phone.see("How many half-pint jars fill Blue?");
  await phone.tap("Count half-pint jars on the rack");
  await phone.type("half-pint jars that fill Blue", "0");
  await phone.tap("Write it down");
  await phone.see("A load holds 1 to 60 jars");
  await phone.type("half-pint jars that fill Blue", "12");
  await phone.tap("Write it down");
  await phone.see("12 half-pint jars fill it");
  await phone.see("12 half-pint jars on Blue: 100 min at 10 psi");
  await phone.reload();
  await phone.see("12 half-pint jars fill it");
  await phone.see("Weight, kg");
  await phone.tap("Begin: ");
  await phone.see("half-pint");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Plan a day");
  await phone.tap("Weigh", { within: ".modes" });
  await phone.type("As caught or bought, kg", "13,6");
  await phone.tap("Write down: as caught or bought");
  await phone.see("Written down: 13.6 kg");
  await phone.reload();
  await phone.see("Written down: 13.6 kg");
  await phone.close();
  await server.stop();
});

test("a planner left while its batches are written down stops nothing", async () => {
  const server = await serve(dist);
  const phone = await atPlan(server);
  await phone.type("Weight, lb", "30");
  await phone.type("Height above sea level, ft", "640");
  await choose(phone, "Size", "half-pint");
  await phone.tap("Count half-pint jars on the rack");
  await phone.type("half-pint jars that fill Blue", "12");
  await phone.tap("Write it down");
  await phone.see("Begin: ");
  // The write is held until the planner is gone.
  await phone.run(`
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...row) {
      IDBObjectStore.prototype.put = put;
      const request = put.apply(this, row);
      const until = Date.now() + 1500;
      const wait = () => { if (Date.now() < until) this.count().onsuccess = wait; };
      wait();
      return request;
    };
    [...document.querySelectorAll(".foot button")].find((b) => b.innerText.startsWith("Begin: ")).click();
    location.hash = "";`);
  await phone.see("Plan a day");
  await phone.see("Fish, load 1");
  await phone.tap("Plan a day");
  await phone.see("Plan another day");
  await phone.tap("Weigh", { within: ".modes" });
  await phone.type("As caught or bought, lb", "30");
  await phone.tap("Write down: as caught or bought");
  await phone.see("Written down: 30 lb");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("the planner on every screen, within the access rules", async () => {
  const server = await serve(dist);
  const phone = await atPlan(server);
  await phone.type("Weight, lb", "30");
  await phone.type("Height above sea level, ft", "5200");
  await phone.type("Date", "2027-03-14");
  await phone.type("Time", "18:00");
  await phone.tap("Your own figures");
  await phone.tap("Your own times and fuel");
  for (const view of ["Plan", "Day", "List", "Weigh"]) {
    await phone.tap(view, { within: ".modes" });
    for (const [name, at] of Object.entries(size)) {
      for (const dark of [false, true]) {
        await phone.look(at, dark);
        const wide = await phone.run("return document.documentElement.scrollWidth - innerWidth");
        assert.ok(wide <= 0, `${view} is ${wide} px too wide, ${name}`);
        await phone.shot(`plan-${view.toLowerCase()}-${name}${dark ? "-dark" : ""}`);
        assert.deepEqual(await phone.axe(), [], `${view}, ${name}`);
      }
    }
    // Text at 200 percent on the narrowest phone (WCAG 2.2, 1.4.4).
    await phone.look(size.narrow);
    await phone.run("document.documentElement.style.fontSize = '200%'");
    const wide = await phone.run("return document.documentElement.scrollWidth - innerWidth");
    assert.ok(wide <= 0, `${view} is ${wide} px too wide at 200 percent`);
    await phone.shot(`plan-${view.toLowerCase()}-large`);
    await phone.run("document.documentElement.style.fontSize = ''");
  }
  await phone.close();
  await server.stop();
});
