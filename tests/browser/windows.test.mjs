// Two windows of one app: both live, one alarm, no tap of either lost.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

/// Counts the beeps a window makes.
const EARS = `window.beeps = 0;
  const make = AudioContext.prototype.createOscillator;
  AudioContext.prototype.createOscillator = function () { window.beeps += 1; return make.call(this); };`;

/// Presses a button of the open screen after so many milliseconds.
const PRESS = `
  const [words, wait] = arguments;
  setTimeout(() => [...document.querySelectorAll("main button")]
    .find((e) => e.innerText.startsWith(words))?.click(), wait);`;

/// Two windows on a load that holds its pressure; one skew of the clock for both.
const two = async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, { before: EARS });
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 4);
  await phone.see("Hold at 13 psi");
  const place = await phone.run("return location.href");
  const first = await phone.driver.getWindowHandle();
  const second = await phone.tab(place);
  await phone.run(EARS);
  await phone.see("Hold at 13 psi");
  const at = (window) => phone.driver.switchTo().window(window);
  return { server, phone, first, second, at };
};

test("taps in both windows at once are both kept, and both screens end the same", async () => {
  const { server, phone, first, second, at } = await two();
  const before = (await phone.rows()).length;
  for (let round = 0; round < 3; round += 1) {
    await at(first);
    await phone.run(PRESS, "Log this reading", 250);
    await at(second);
    await phone.run(PRESS, "Log this reading", 0);
    await phone.until(async () => (await phone.rows()).length >= before + 2 * (round + 1), "two rows more");
  }
  // One says the pressure fell, both start over.
  await phone.tap("Pressure dropped");
  await phone.tap("Not sure");
  await phone.see("Bring it up to 13 psi");
  await at(first);
  await phone.see("Bring it up to 13 psi");
  const rows = await phone.rows();
  assert.equal(rows.filter((row) => row.includes('"reading"')).length, 6);
  const [one, other] = [await phone.title(), (await at(second), await phone.title())];
  assert.equal(one, other);
  await phone.close();
  await server.stop();
});

test("one window rings; quiet in either quiets both; the other takes the ringing over", async () => {
  const { server, phone, first, second, at } = await two();
  for (const window of [first, second]) {
    await at(window);
    // A tap in each, so that either may sound.
    await phone.tap("Log this reading");
    await phone.run("testClock.pass(arguments[0])", 111 * 60_000);
  }
  phone.skew += 111 * 60_000;
  for (const window of [first, second]) {
    await at(window);
    await phone.see("Time is over.");
  }
  const beeps = async (window) => {
    await at(window);
    return phone.run("return window.beeps");
  };
  // The first window leads: it alone rings.
  const silent = await beeps(second);
  const loud = await beeps(first);
  await phone.until(async () => (await beeps(first)) > loud, "the first window to ring");
  assert.equal(await beeps(second), silent);
  // Quieted where it does not ring.
  await at(second);
  await phone.tap("Quiet");
  await at(first);
  await phone.until(async () => !(await phone.text()).includes("Time is over."), "quiet");
  const still = await beeps(first);
  await new Promise((done) => setTimeout(done, 2_500));
  assert.equal(await beeps(first), still);
  // The next time's end finds the first window closed: the second leads now.
  await phone.driver.close();
  await at(second);
  await phone.tap("Heat is off");
  await phone.tap("At zero: weight is off");
  await phone.run("testClock.pass(arguments[0])", 11 * 60_000);
  phone.skew += 11 * 60_000;
  await phone.see("Time is over.");
  await phone.until(async () => (await phone.run("return window.beeps")) > silent, "the second window to ring");
  await phone.close();
  await server.stop();
});
