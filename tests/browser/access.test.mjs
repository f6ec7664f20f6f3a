// Every screen, upright and sideways, narrow, light and dark, looked over by axe-core
// (WCAG 2.0 to 2.2 at level AA, the enhanced contrast of AAA, target sizes) and by our
// own measure (targets, gaps, headings); a screenshot of each goes to tests/screenshots.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { inspect } from "./harness/inspect.mjs";
import { begin, rest, smoked, stages } from "./harness/job.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

/// The addresses that the page knows, filled in with a batch and a load of the record.
const addresses = async (phone) => {
  const source = readFileSync(new URL("../../src/present/route.rs", import.meta.url), "utf8");
  const found = [...source.slice(source.indexOf("fn hash")).matchAll(/"(#\/[^"]*)"/g)].map((hit) => hit[1]);
  assert.ok(found.length >= 8, `addresses: ${found}`);
  // A load that is on the shelf: every screen of it has something to show.
  const rows = (await phone.rows()).map((row) => JSON.parse(row));
  const shelved = rows.find((row) => row.what?.shelved);
  const lot = rows.find((row) => row.what?.lot_started);
  const put = { batch: shelved?.batch, load: shelved?.what.shelved.load, lot: lot?.batch };
  return found.map((address) => {
    const whole = address.replace(/\{(\w+)[^}]*\}/g, (hole, name) => {
      assert.ok(put[name], `say in this test what stands for ${hole} in ${address}`);
      return put[name];
    });
    return [address.replace(/\W+/g, "-").replace(/^-|-$/g, "") || "home", whole];
  });
};

test("no screen breaks an access rule", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  const wrong = [];
  let number = 0;
  let checked = 0;
  const all = async (name) => {
    number += 1;
    for (const [view, dark] of [["portrait", false], ["portrait", true], ["landscape", false], ["landscape", true], ["narrow", false]]) {
      await phone.look(size[view], dark);
      wrong.push(...(await inspect(phone)).map((line) => `${name} ${view} ${dark ? "dark" : "light"}: ${line}`));
      await phone.shot(`${String(number).padStart(2, "0")}-${name}-${view}${dark ? "-dark" : ""}`);
      checked += 1;
    }
    await phone.look(size.portrait, false);
  };
  await all("safety");
  await phone.tap("I have read this");
  await all("today-empty");
  await phone.tap("Can something");
  await all("find-altitude-missing");
  await phone.type("Height above sea level", "9000");
  await all("find-refused");
  await phone.type("Height above sea level", "5200");
  await phone.tap("Change");
  await all("find-foods");
  await phone.tap("Fish, lightly smoked");
  await smoked(phone);
  for (const [index, stage] of stages.entries()) {
    await phone.see(stage.title);
    await all(`stage-${index + 1}`);
    if (stage.title.startsWith("Hold")) {
      await phone.pass(20);
      await phone.jump(30);
      await phone.see("The clock moved forward");
      await all("hold-doubt");
      await phone.tap("No, or not sure");
      await phone.tap("Pressure dropped");
      await all("hold-dropped");
      await phone.tap("It did not drop");
    }
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    if (stage.title === "Vent") await all("time-over");
    await phone.tap(stage.tap);
  }
  await phone.see(rest.title);
  await all("rest");
  await phone.tap("Today", { within: "nav" });
  await all("today-resting");
  await phone.pass(rest.minutes);
  await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await all("seals");
  for (const jar of [1, 2, 3, 4, 5, 6]) await phone.tap(`${jar} not checked`, { within: ".jars" });
  await phone.tap("Not sealed", { within: ".modes" });
  await phone.tap("7 not checked", { within: ".jars" });
  await all("seals-one-open");
  await phone.tap("Frozen");
  await phone.tap("Put on the shelf");
  await all("seals-shelved");
  await phone.tap("Shelf", { within: "nav" });
  // The desk's half may still be on its way.
  await phone.until(async () => (await phone.title()) === "Shelf", "the shelf");
  await all("shelf");
  await phone.tap("Smoked whitefish", { within: ".rows" });
  await phone.tap("Lost its seal");
  await phone.see("Undo");
  await all("shelf-lost-seal");
  await phone.tap("Hand over", { within: "nav" });
  await all("hand-over");
  await phone.type("Or paste its text, or that of a picture code", "nonsense");
  await phone.tap("Look at the pasted text");
  await all("hand-over-refused");
  await phone.tap("More", { within: "nav" });
  await phone.tap("Load the example");
  await phone.see("Remove the example");
  await all("more");
  await phone.tap("Today", { within: "nav" });
  await all("today-full");
  await phone.tap("Smoked char", { within: ".lines" });
  await all("batch");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Thaw, brine, smoke: before the canner");
  await phone.tap("gutted or dressed");
  await phone.tap("Start this lot");
  await phone.see("Can this lot");
  // Every address of the page, also those that no walk above comes by.
  for (const [name, address] of await addresses(phone)) {
    await phone.run("location.hash = arguments[0]", address);
    await phone.until(() => phone.run(`
      return document.activeElement?.id === "title" && !document.body.innerText.includes("Reading the record");`), address);
    await all(`address-${name}`);
    // Twice the text on a small phone: nothing is cut off sideways.
    await phone.run("document.documentElement.style.fontSize = '200%'");
    const wide = await phone.run(`
      return [document.documentElement, ...document.querySelectorAll(".page, .foot, nav")]
        .filter((e) => e.scrollWidth > e.clientWidth + 1).map((e) => e.className || e.tagName)`);
    if (wide.length > 0) wrong.push(`address-${name} at 200 % text: ${wide} too wide`);
    await phone.shot(`text-200-${name}`);
    await phone.run("document.documentElement.style.fontSize = ''");
  }
  assert.equal(wrong.join("\n"), "");
  assert.ok(checked >= 100, `${checked} screens checked`);
  console.log(`${checked} screens without a finding`);
  await phone.close();
  await server.stop();
});
