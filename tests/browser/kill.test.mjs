// Random taps over a whole job, the browser killed at random moments and opened again
// on the same profile: what the screen had confirmed is there, and the clock is right.
// A model of the run, kept here by taps alone, says what that is.
//
// `KILLS=1000 node --test kill.test.mjs` kills more often, `SEED=7` otherwise.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, rest, smoked, stages } from "./harness/job.mjs";

const KILLS = Number(process.env.KILLS ?? 15);
const SEED = Number(process.env.SEED ?? 20261126);
/// A slow machine kills less often rather than too long; a number asked for is kept.
const LIMIT_MS = process.env.KILLS ? Infinity : 75_000;

/// A small seeded generator (mulberry32, public domain), so that a run can be had again.
const dice = (seed) => () => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
};

/// The least minutes of each timed stage (USDA Complete Guide to Home Canning, Guide 1,
/// pp. 1-20 and 1-22; Guide 5, p. 5-13, 2015).
const TIMED = { Vent: 10, "Hold at 13 psi or a little over": 110, "Wait before the lid": 10 };
const TITLES = [...stages.map((stage) => stage.title), rest.title];
const HOLD = TITLES.indexOf("Hold at 13 psi or a little over");
const RISE = HOLD - 1;

/// Where the run stands, by taps alone; each tap can be taken back.
class Model {
  constructor() { this.past = []; this.now = { stage: 0, since: null }; }
  to(stage, since) { this.past.push(this.now); this.now = { stage, since }; }
  tap(what, at) {
    if (what === "forward") this.to(this.now.stage + 1, at);
    if (what === "drop") this.to(RISE, at);
    if (what === "answer") this.to(this.now.stage, this.now.since);
    if (what === "undo") this.now = this.past.pop();
  }
  get title() { return TITLES[this.now.stage]; }
  /// Seconds the clock shows at an instant; null where there is none or it is not held to.
  clock(at) {
    const { stage, since } = this.now;
    if (since === null || stage === TITLES.length - 1) return null;
    const passed = (at - since) / 1000;
    const least = TIMED[TITLES[stage]];
    return least === undefined ? passed : Math.abs(least * 60 - passed);
  }
}

const PRESS = `
  const [words] = arguments;
  const say = (e) => (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim();
  const hit = [...document.querySelectorAll("main button")].find((e) => say(e).startsWith(words) && !e.disabled);
  if (!hit) return null;
  const at = Date.now();
  hit.click();
  return at;`;

/// Presses after a while; answers with the time at once.
const LATER = `
  const [words, wait] = arguments;
  const say = (e) => (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim();
  setTimeout(() => [...document.querySelectorAll("main button")]
    .find((e) => say(e).startsWith(words) && !e.disabled)?.click(), wait);
  return Date.now() + wait;`;

/// Whether there is something to press.
const FIND = `
  const [words] = arguments;
  const say = (e) => (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim();
  return [...document.querySelectorAll("main button")].some((e) => say(e).startsWith(words) && !e.disabled);`;

const openLoad = async (phone) => {
  await phone.until(async () => /load 1|Load the canner/.test(await phone.text()), "the load");
  if ((await phone.title()) === "Today") await phone.tap("Smoked whitefish, Lake Ostermere, load 1");
  await phone.until(async () => TITLES.includes(await phone.title()), "a stage");
};

test("random taps and kills: no confirmed tap is lost, the clock is right", async () => {
  const roll = dice(SEED);
  const server = await serve(dist);
  let phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  let model = new Model();
  let confirmed = await phone.rows();
  const begun = Date.now();
  const done = { kills: 0, taps: 0, inFlight: 0, kept: 0, runs: 1, worst: 0 };

  const names = { drop: "Heat was too low", undo: "Take back the last tap", answer: "Yes, " };
  /// What could be tapped now.
  const choose = () => {
    const last = model.now.stage === TITLES.length - 1;
    const chance = roll();
    if (model.now.stage === HOLD && chance < 0.12) return "drop";
    if (model.past.length > 0 && (chance < 0.22 || (last && chance < 0.6))) return "undo";
    return last ? "again" : "forward";
  };
  const open = async (what) => {
    if (what !== "forward") return names[what];
    const stage = stages[model.now.stage];
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    return stage.tap;
  };
  /// Presses and says when; the button may be drawn anew under the finger.
  const press = async (words, what) => {
    let at = null;
    await phone.until(async () => {
      if (what === "drop") await phone.run(PRESS, "Pressure dropped");
      at = await phone.run(PRESS, words);
      return at !== null;
    }, `something to press: ${words}`, 15_000);
    return at;
  };
  /// Waits until the tap has counted: its row is there and the screen shows it.
  const confirm = async (what, at) => {
    await phone.until(async () => (await phone.rows()).length > confirmed.length, `the row of ${what}`, 15_000);
    model.tap(what, at);
    await phone.until(async () => (await phone.title()) === model.title, model.title, 15_000);
    confirmed = await phone.rows();
    done.taps += 1;
  };
  /// Time the page could not watch is asked about; here it did pass.
  const answer = async () => {
    while ((await phone.text()).includes("Yes, ")) {
      confirmed = await phone.rows();
      const at = await phone.run(PRESS, names.answer);
      if (at === null) continue;
      await confirm("answer", at);
      await phone.until(async () => !(await phone.text()).includes("Yes, "), "no more question");
    }
  };
  const checkClock = async () => {
    let said = "";
    await phone.until(async () => {
      // A question may come a moment after the screen.
      await answer();
      const { shown, at } = await phone.run(`
        return { shown: document.querySelector(".digits")?.innerText ?? "", at: Date.now() };`);
      const expected = model.clock(at);
      if (expected === null || shown === "") return true;
      const seconds = shown.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);
      const off = Math.abs(seconds - expected);
      said = `${model.title}: ${seconds} s shown, ${expected} s by the model`;
      // One second of truth; up to one more since the page last wrote its digits.
      if (off <= 2) done.worst = Math.max(done.worst, off);
      return off <= 2;
    }, "the right clock", 10_000).catch((error) => assert.fail(`${said}\n${error.message}`));
  };

  while (done.kills < KILLS && Date.now() - begun < LIMIT_MS) {
    await answer();
    const what = choose();
    if (what === "again") {
      // A whole job is done: the next begins.
      await phone.close();
      phone = await Phone.open(server.address);
      await phone.kept();
      await begin(phone);
      await smoked(phone);
      model = new Model();
      confirmed = await phone.rows();
      done.runs += 1;
      continue;
    }
    const words = await open(what);
    await answer();
    if (roll() < 0.45) {
      await confirm(what, await press(words, what));
      await checkClock();
      continue;
    }
    // The tap comes at some moment, and the kill at some moment around it.
    const pids = phone.pids();
    if (what === "drop") await phone.run(PRESS, "Pressure dropped");
    await phone.until(() => phone.run(FIND, words), `something to press: ${words}`, 15_000);
    const before = model.title;
    const at = await phone.run(LATER, words, Math.floor(roll() * 60));
    await new Promise((wait) => setTimeout(wait, Math.floor(roll() * 140)));
    // Some are killed just after a look at the screen: what it shows has counted.
    const shown = roll() < 0.4 ? await phone.title() : before;
    phone.slay(pids);
    await phone.kill();
    done.kills += 1;
    await openLoad(phone);
    // The page itself may note at its opening what the clock did.
    const rows = await phone.rows();
    for (const row of confirmed) assert.ok(rows.includes(row), `lost: ${row}`);
    const more = rows.filter((row) => !confirmed.includes(row) && !row.includes("clock_moved"));
    assert.ok(more.length <= 1, `one tap, ${more.length} rows: ${more.join("\n")}`);
    done.inFlight += 1;
    if (shown !== before) {
      done.taps += 1;
      assert.equal(more.length, 1, `lost: the screen had gone from ${before} to ${shown}`);
    }
    if (more.length === 1) {
      const told = JSON.parse(more[0]).at;
      assert.ok(Math.abs(told - at) <= 1_500, `told ${told - at} ms from the tap`);
      model.tap(what, told);
      done.kept += 1;
    }
    confirmed = rows;
    await phone.until(async () => (await phone.title()) === model.title, model.title, 15_000);
    await answer();
    await checkClock();
  }
  console.log(`seed ${SEED}: ${done.kills} kills, ${done.runs} jobs, ${done.taps} taps confirmed, 0 lost; ` +
    `${done.inFlight} taps cut off, ${done.kept} of them kept whole; clock off by ${done.worst.toFixed(2)} s at most`);
  assert.ok(done.kills >= Math.min(KILLS, 3), "the machine is too slow for even three kills");
  await phone.close();
  await server.stop();
});
