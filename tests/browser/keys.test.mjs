// The whole job by keyboard alone: WCAG 2.2, 2.1.1 (keyboard), 2.4.3 (focus order)
// and 2.4.7 (focus visible).
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { rest, stages } from "./harness/job.mjs";
import { choose, enter, focused, write } from "./harness/keys.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

/// A new screen begins at its heading for who hears or types.
const begins = (phone, title) => phone.until(async () => {
  const [heading, active] = await phone.run(
    "return [document.querySelector('h1')?.innerText.replace(/\\u00a0/g, ' '), document.activeElement?.id]");
  return heading?.startsWith(title) && active === "title";
}, `the focus on the heading “${title}”`);

test("the whole job by keyboard alone", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.see("Before you can");
  await enter(phone, "I have read this");
  await begins(phone, "Today");
  await enter(phone, "Can something");
  await begins(phone, "Find a tested process");
  // The focus can be seen wherever it is.
  await choose(phone, "Preparation", "lightly smoked");
  const outline = await phone.run(`
    return getComputedStyle(document.activeElement.closest("label.choice")).outlineStyle`);
  assert.equal(outline, "solid");
  await choose(phone, "Jar", "half-pint");
  await choose(phone, "Kind", "Pressure canner, dial gauge");
  await write(phone, "Height above sea level", "5200");
  await write(phone, "What is in the jars", "Smoked whitefish, Lake Ostermere");
  await enter(phone, "Start: 110 min at 13 psi");
  for (const stage of stages) {
    await begins(phone, stage.title);
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    await enter(phone, stage.tap);
  }
  await begins(phone, rest.title);
  await phone.pass(rest.minutes);
  await begins(phone, "Check the seals");
  for (let jar = 1; jar <= 6; jar += 1) {
    await enter(phone, `${jar} not checked`);
    await phone.see(`${jar} of 7 checked.`);
  }
  await enter(phone, "Not sealed");
  await enter(phone, "7 not checked");
  await phone.see("7 of 7 checked. 6 sealed.");
  // A mark set by mistake is taken back, and set again.
  await enter(phone, "Take back the last tap");
  await phone.see("6 of 7 checked.");
  await enter(phone, "7 not checked");
  await enter(phone, "Refrigerated");
  await write(phone, "Where they stand", "Cellar, second board");
  await enter(phone, "Put on the shelf");
  await phone.see("On the shelf: Cellar, second board");
  await enter(phone, "Shelf");
  await begins(phone, "Shelf");
  await phone.see("Cellar, second board");
  assert.equal(await focused(phone), "Shelf");
  console.log(`${phone.keys} keys for the whole job`);
  await phone.close();
  await server.stop();
});

test("what happens at the clock is told to who only hears", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await enter(phone, "I have read this");
  await enter(phone, "Can something");
  await write(phone, "Height above sea level", "640");
  await enter(phone, "Start: 100 min");
  await begins(phone, "Load the canner");
  await enter(phone, "Heat is on");
  await enter(phone, "Steam is steady");
  await begins(phone, "Vent");
  const heard = () => phone.run("return document.querySelector('.clock [role=status]').textContent.replace(/\\u00a0/g, ' ')");
  const politely = await phone.run(`
    const e = document.querySelector(".clock [role=status]");
    return [getComputedStyle(e).display !== "none", e.getAttribute("aria-live") ?? "polite"];`);
  assert.deepEqual(politely, [true, "polite"]);
  assert.equal(await heard(), "");
  await phone.pass(5);
  await phone.until(async () => (await heard()) === "5 min or less to go.", "the first milestone");
  await phone.pass(4);
  await phone.until(async () => (await heard()) === "1 min or less to go.", "the last milestone");
  await phone.pass(1.1);
  await phone.until(() => phone.run(`
    return document.querySelector("[role=alert]").innerText.includes("Time is over.")`), "the alert");
  assert.equal(await heard(), "");
  await phone.close();
  await server.stop();
});
