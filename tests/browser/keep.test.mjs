// Nothing tapped is lost: reload and SIGKILL in every stage, hand-over between two
// phones both ways, and damaged files.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { begin, rest, runStages, smoked, stages } from "./harness/job.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

test("reload and kill in each stage: the stage, the clock and every row are there", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  for (const [index, stage] of stages.entries()) {
    await phone.see(stage.title);
    if (stage.minutes > 1) await phone.pass(stage.minutes - 1);
    const before = { clock: await phone.clock(), rows: await phone.rows(), at: Date.now() };
    for (const again of [() => phone.reload(), () => phone.kill()]) {
      await again();
      await phone.see("load 1");
      if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
      await phone.see(stage.title);
      // A killed phone may have forgotten when it last saw the clock: then it asks.
      const taps = (rows) => rows.filter((row) => !row.includes('"clock_'));
      assert.deepEqual(taps(await phone.rows()), taps(before.rows), stage.title);
      await phone.until(async () => {
        const asks = await phone.run(`return [...document.querySelectorAll("main button")]
          .find((e) => e.innerText.startsWith("Yes, "))?.click() ?? false;`);
        const passed = (Date.now() - before.at) / 1000;
        const timed = ["Vent", "Hold at 13 psi or a little over", "Wait before the lid"].includes(stage.title);
        const expected = timed ? Math.max(before.clock - passed, 0) : before.clock + passed;
        return asks === false && (before.clock === 0 || Math.abs((await phone.clock()) - expected) <= 2);
      }, `the right time in ${stage.title}`, 15_000);
    }
    if (stage.minutes > 0) await phone.pass(1);
    await phone.tap(stage.tap);
    assert.ok(index >= 0);
  }
  await phone.see(rest.title);
  await phone.kill();
  if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.see(rest.title);
  await phone.close();
  await server.stop();
});

const handOut = async (phone) => {
  await phone.tap("Hand over", { within: "nav" });
  await phone.see("Give out");
  // Newest last: a second file of the day gets another name.
  const files = () => readdirSync(phone.downloads).filter((name) => name.endsWith(".txt"))
    .sort((a, b) => statSync(join(phone.downloads, a)).mtimeMs - statSync(join(phone.downloads, b)).mtimeMs);
  const before = files().length;
  await phone.tap("Share or save the file");
  await phone.see("Saved as hearthjar-");
  await phone.until(() => files().length > before, "the download");
  return readFileSync(join(phone.downloads, files().pop()), "utf8");
};

const takeIn = async (phone, text) => {
  await phone.tap("Hand over", { within: "nav" });
  await phone.type("Or paste its text", text);
  await phone.tap("Look at the pasted text");
};

test("two phones hand over both ways and end up equal", async () => {
  const server = await serve(dist);
  const one = await Phone.open(server.address);
  await begin(one);
  await smoked(one);
  await runStages(one, 0, 3);
  const first = await handOut(one);
  assert.match(first, /^Hearthjar record 1\n/);
  const two = await Phone.open(server.address);
  await two.tap("I have read this");
  await takeIn(two, first);
  await two.see("Smoked whitefish, Lake Ostermere");
  await two.see(": new");
  await two.tap("Take it in");
  await two.see("entries were taken in");
  assert.deepEqual(await two.rows(), await one.rows());
  // One tap takes it out again; then it comes in for good.
  await two.tap("Take them out again");
  await two.until(async () => (await two.rows()).length === 0, "an empty record");
  await takeIn(two, first);
  await two.tap("Take it in");
  // Both go on apart, then exchange.
  await two.tap("Today", { within: "nav" });
  await two.tap("Smoked whitefish, Lake Ostermere, load 1");
  await two.tap("At 13 psi: start 110 min");
  await one.tap("Today", { within: "nav" });
  await one.tap("Smoked whitefish, Lake Ostermere", { within: ".lines" });
  await one.type("Note", "Alder for the smoke");
  await one.tap("Add the note");
  await one.see("Alder for the smoke");
  const fromOne = await handOut(one);
  const fromTwo = await handOut(two);
  await takeIn(one, fromTwo);
  await one.see("1 entry more");
  await one.tap("Take it in");
  await takeIn(two, fromOne);
  await two.see("1 entry more");
  await two.tap("Take it in");
  // Each notes for itself that the other began a step by another clock.
  const told = async (phone) => (await phone.rows()).filter((row) => !row.includes('"clock_'));
  await one.until(async () => (await told(one)).length === (await told(two)).length, "equal rows");
  assert.deepEqual(await told(one), await told(two));
  await takeIn(one, fromOne);
  await one.see("All of it is here already.");
  await one.close();
  await two.close();
  await server.stop();
});

test("damaged, foreign and newer files say so and change nothing", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  const good = await handOut(phone);
  const before = await phone.rows();
  const bad = [
    [good.slice(0, good.length - 40), "cut off"],
    [good.replace('"minutes":110', '"minutes":111'), "was changed on its way"],
    [good.replace("record 1", "record 9"), "newer than this Hearthjar reads"],
    ["<html><body>not found</body></html>", "This is no Hearthjar record"],
    ["   ", "There is nothing in this file"],
    [`${good}${"x".repeat(33 * 1024 * 1024)}`, "larger than 32 MB"],
  ];
  for (const [text, sentence] of bad) {
    await takeIn(phone, text);
    await phone.see(sentence, 20_000);
    assert.deepEqual(await phone.rows(), before, sentence);
  }
  // Text from a file never becomes markup.
  assert.equal(await phone.run("return document.querySelectorAll('img, script:not([src])').length"), 0);
  await phone.close();
  await server.stop();
});

test("two tabs show one record and note one jump of the clock once", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 4);
  const place = await phone.run("return location.href");
  const first = await phone.driver.getWindowHandle();
  const second = await phone.tab(place);
  await phone.see("Hold at 13 psi");
  // A tap in one shows in the other.
  await phone.tap("Pressure dropped");
  await phone.tap("Not sure");
  await phone.see("Bring it up to 13 psi");
  await phone.driver.switchTo().window(first);
  await phone.see("Bring it up to 13 psi");
  await phone.tap("At 13 psi: start 110 min");
  // The clock is set back an hour for both tabs.
  for (const tab of [first, second]) {
    await phone.driver.switchTo().window(tab);
    await phone.run("testClock.jump(-3600000)");
  }
  await phone.see("was set back", 12_000);
  await new Promise((done) => setTimeout(done, 6_000));
  const moves = (await phone.rows()).filter((row) => row.includes("clock_moved"));
  assert.equal(moves.length, 1, moves.join("\n"));
  assert.ok(Math.abs(await phone.clock() - 6600) <= 30, `${await phone.clock()} s left`);
  await phone.close();
  await server.stop();
});
