// How many taps the job takes with the choices of last time, and that each tap on
// the way can be taken back. The counts are printed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { begin, rest, runStages, smoked, stages } from "./harness/job.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

test("few taps for the whole job", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await phone.load();
  phone.taps = 0;
  await phone.tap("Can something");
  await phone.tap("Start: 110 min at 13 psi");
  await phone.tap("Heat is on");
  await phone.pass(15);
  await phone.tap("Steam is steady");
  await phone.see("Vent");
  await phone.until(async () => (await phone.clock()) > 590, "the vent clock");
  const vent = phone.taps;
  await phone.pass(10);
  await runStages(phone, 2);
  await phone.see(rest.title);
  const run = phone.taps;
  await phone.pass(rest.minutes);
  await phone.see("Check the seals");
  const before = phone.taps;
  // A quick hand: jar after jar in one moment, faster than any row is durable.
  for (let jar = 1; jar <= 3; jar += 1) await phone.tap(`${jar} not checked`, { within: ".jars" });
  phone.taps += await phone.run(`
    const tiles = [...document.querySelectorAll(".tile")].slice(3);
    for (const tile of tiles) tile.click();
    return tiles.length;`);
  await phone.see("7 of 7 checked. 7 sealed.");
  const jars = phone.taps - before;
  await phone.tap("Put on the shelf");
  console.log(`taps: ${vent} from opening to a running vent clock, ${run} to the jars at rest, `
    + `${jars} for 7 jars, ${phone.taps} in all`);
  assert.ok(vent <= 12);
  assert.ok(jars <= 7);
  await phone.close();
  await server.stop();
});

test("a phone that keeps home-screen storage apart says so before the first record", async () => {
  const server = await serve(dist);
  const apart = (standalone) => ({ before: `Object.defineProperty(navigator, "standalone", { value: ${standalone} });` });
  const words = "put Hearthjar on the home screen";
  const phone = await Phone.open(server.address, apart(false));
  await phone.tap("I have read this");
  await phone.see(words);
  await phone.tap("Can something");
  await smoked(phone);
  await phone.tap("Today", { within: "nav" });
  await phone.see("Smoked whitefish");
  assert.ok(!(await phone.text()).includes(words));
  await phone.close();
  const home = await Phone.open(server.address, apart(true));
  await home.tap("I have read this");
  await home.see("Nothing is on the stove");
  assert.ok(!(await home.text()).includes(words));
  await home.close();
  await server.stop();
});

test("every tap of a run can be taken back", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  for (const [index, stage] of stages.entries()) {
    await phone.see(stage.title);
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    await phone.tap(stage.tap);
    await phone.see(stages[index + 1]?.title ?? rest.title);
    await phone.tap("Take back the last tap");
    await phone.see(stage.title);
    if (stage.title.startsWith("Hold")) {
      // A drop, and giving the load up, are taken back alike: the clock runs on.
      await phone.tap("Pressure dropped");
      await phone.tap("Not sure");
      await phone.see("run again");
      await phone.tap("Take back the last tap");
      await phone.see(stage.title);
      await phone.tap("Stop this load");
      await phone.tap("Another reason");
      await phone.see("Stopped: not processed");
      await phone.tap("Take back the last tap");
      await phone.see("Time is over.");
    }
    await phone.tap(stage.tap);
  }
  await phone.see(rest.title);
  await phone.close();
  await server.stop();
});

test("the clock of a propped phone is read from across the room", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  // The height of the figures as drawn, not of the line they stand on.
  const height = () => phone.run(`
    const digits = document.querySelector(".digits");
    const style = getComputedStyle(digits);
    const pen = document.createElement("canvas").getContext("2d");
    pen.font = [style.fontWeight, style.fontSize, style.fontFamily].join(" ");
    const ink = pen.measureText("0123456789");
    const box = digits.getBoundingClientRect();
    const foot = document.querySelector(".foot").getBoundingClientRect();
    return { high: ink.actualBoundingBoxAscent + ink.actualBoundingBoxDescent, top: box.top, bottom: box.bottom,
      cut: digits.scrollWidth > digits.clientWidth + 1, right: box.right, foot: foot.left };`);
  for (const [index, stage] of stages.entries()) {
    await phone.see(stage.title);
    if (index > 0) {
      for (const view of [[667, 375], size.landscape, [915, 412]]) {
        await phone.look(view);
        const found = await height();
        const part = found.high / Math.min(...view);
        assert.ok(part >= 0.3, `${stage.title}: figures are ${Math.round(part * 100)} % of ${view} high`);
        assert.ok(!found.cut && found.right <= found.foot && found.top >= 0 && found.bottom <= view[1],
          `${stage.title}: figures lie off the screen ${view}: ${JSON.stringify(found)}`);
        if (index === 4) console.log(`figures are ${(part * 100).toFixed(1)} % of the short side at ${view.join(" x ")}`);
      }
      await phone.look(size.portrait);
    }
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    await phone.tap(stage.tap);
  }
  await phone.close();
  await server.stop();
});
