// Random taps over a whole job, the browser killed at random moments and opened again
// on the same profile: what the screen had confirmed is there, and the clock is right.
// A model of the run, kept here by taps alone, says what that is.
//
// `KILLS=1000 node --test kill.test.mjs` kills more often, `SEED=7` otherwise. Every 50
// kills are a test of their own, on a new phone, with the seed after the last one's:
// what stopped after seed 12 goes on with `SEED=13`, and any one is had again by its seed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, rest, smoked, stages } from "./harness/job.mjs";

const KILLS = Number(process.env.KILLS ?? 50);
const SEED = Number(process.env.SEED ?? 20261126);
/// Kills in one test.
const PIECE = 50;
/// A slow machine kills less often rather than too long; a number asked for is kept.
const LIMIT_MS = process.env.KILLS ? Infinity : 180_000;

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
  /// Seconds the clock is to show at an instant; null where there is none or it is not
  /// held to.
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

/// What the clock shows and the time of the very same moment; whether the page asks
/// something, which holds its clock back until it is answered.
const SHOWN = `
  const shown = () => document.querySelector(".digits")?.innerText ?? "";
  const look = () => ({ shown: shown(), at: Date.now(), asks: document.body.innerText.includes("Yes, ") });`;
const LOOK = `${SHOWN} return look();`;

/// The same just after the page has drawn another time, with some time let pass before.
const DRAWN = `${SHOWN}
  const [ms, done] = arguments;
  const before = shown();
  const watch = new MutationObserver(() => {
    if (shown() === before) return;
    watch.disconnect();
    // Hours and seconds are written one after the other: once both are.
    setTimeout(() => done(look()));
  });
  watch.observe(document.body, { characterData: true, childList: true, subtree: true });
  if (ms > 0) testClock.pass(ms);`;

/// How far a clock of whole seconds is from the true time: it shows 9:58 for all that is
/// over 9:57 and up to 9:58, so what it shows was right `off` seconds ago; and the plain
/// difference, with the rounding.
const offBy = (shown, truly) => {
  const seconds = shown.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);
  return { off: Math.max(0, truly - seconds, seconds - 1 - truly), plain: Math.abs(seconds - truly) };
};

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

const all = { kills: 0, taps: 0, cut: 0, kept: 0, jobs: 0, looks: 0, off: 0, plain: 0, late: 0, latest: 0, heard: 0 };
const figures = (done) =>
  `${done.kills} kills, ${done.jobs} jobs, ${done.taps} taps confirmed, 0 lost; ${done.cut} taps cut off, ` +
  `${done.kept} of them kept whole; ${done.looks} looks at the clock, off by ${done.off.toFixed(2)} s ` +
  `at most (${done.plain.toFixed(2)} s with its rounding up to whole seconds)` +
  `; taps written down ${done.heard.toFixed(2)} s after at most` +
  (done.late > 0 ? `; ${done.late} more looks before a busy machine had drawn, ${done.latest.toFixed(2)} s at most` : "");

const piece = async (seed, kills) => {
  const roll = dice(seed);
  const server = await serve(dist);
  let phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  let model = new Model();
  let confirmed = await phone.rows();
  const begun = Date.now();
  const done = { kills: 0, taps: 0, cut: 0, kept: 0, jobs: 1, looks: 0, off: 0, plain: 0, late: 0, latest: 0, heard: 0 };

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
    if (stage.minutes > 0) {
      phone.skew += stage.minutes * 60_000;
      await phone.driver.executeAsyncScript(DRAWN, stage.minutes * 60_000);
    }
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
  /// What was added by taps; the page itself may note what the clock did.
  const added = (rows) => rows.filter((row) => !confirmed.includes(row) && !row.includes("clock_moved"));
  /// When the page says the tap was: at the tap, but for the time a busy machine took to
  /// hand it over.
  const heard = (row, at) => {
    const told = JSON.parse(row).at;
    assert.ok(told >= at - 50 && told <= at + 5_000, `told ${told - at} ms after the tap`);
    done.heard = Math.max(done.heard, (told - at) / 1000);
    return told;
  };
  /// Waits until the tap has counted: its row is there and the screen shows it.
  const confirm = async (what, at) => {
    let row;
    await phone.until(async () => {
      row = added(await phone.rows())[0];
      return row !== undefined;
    }, `the row of ${what}`, 15_000);
    model.tap(what, heard(row, at));
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
  /// At any look the clock is right within a second. On a busy machine the browser may
  /// draw it later than the page asked for; then it is right when it is drawn.
  const checkClock = async () => {
    let said = "";
    await phone.until(async () => {
      // A question may come a moment after the screen.
      await answer();
      const judge = ({ shown, at, asks }) => {
        const truly = model.clock(at);
        if (truly === null || shown === "") return null;
        said = `${model.title}: ${shown} shown, ${truly} s by the model`;
        return { ...offBy(shown, truly), asks };
      };
      const first = judge(await phone.run(LOOK));
      if (first === null) return true;
      if (first.asks) return false;
      if (first.off <= 1) {
        done.looks += 1;
        done.off = Math.max(done.off, first.off);
        done.plain = Math.max(done.plain, first.plain);
        return true;
      }
      const drawn = judge(await phone.driver.executeAsyncScript(DRAWN, 0));
      if (drawn === null || drawn.asks) return false;
      assert.ok(drawn.off <= 1, said);
      done.late += 1;
      done.latest = Math.max(done.latest, first.off);
      return true;
    }, "the right clock", 15_000).catch((error) => assert.fail(`${said}\n${error.message}`));
  };

  while (done.kills < kills && Date.now() - begun < LIMIT_MS) {
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
      done.jobs += 1;
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
    const more = added(rows);
    assert.ok(more.length <= 1, `one tap, ${more.length} rows: ${more.join("\n")}`);
    done.cut += 1;
    if (shown !== before) {
      done.taps += 1;
      assert.equal(more.length, 1, `lost: the screen had gone from ${before} to ${shown}`);
    }
    if (more.length === 1) {
      model.tap(what, heard(more[0], at));
      done.kept += 1;
    }
    confirmed = rows;
    await phone.until(async () => (await phone.title()) === model.title, model.title, 15_000);
    await answer();
    await checkClock();
  }
  await phone.close();
  await server.stop();
  console.log(`seed ${seed}: ${figures(done)}; ${Math.round((Date.now() - begun) / 1000)} s`);
  return done;
};

for (let first = 0; first < KILLS; first += PIECE) {
  const seed = SEED + first / PIECE;
  const kills = Math.min(PIECE, KILLS - first);
  test(`seed ${seed}: no confirmed tap is lost, the clock is right`, async () => {
    const done = await piece(seed, kills);
    for (const name of ["kills", "taps", "cut", "kept", "jobs", "looks", "late"]) all[name] += done[name];
    for (const name of ["off", "plain", "latest", "heard"]) all[name] = Math.max(all[name], done[name]);
    assert.ok(done.kills >= Math.min(kills, 10), "the machine is too slow for even ten kills");
    if (KILLS > PIECE) console.log(`so far: ${figures(all)}`);
  });
}
