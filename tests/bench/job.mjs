// The job by taps, each timed from the finger to the frame that shows what it did; the
// long tasks of a run; the clock after two hours out of sight; what a page does when
// nothing moves.
import { stages, rest } from "../browser/harness/job.mjs";
import { CLOCK } from "../browser/harness/clock.mjs";
import { Chromium, dropProfile, newProfile, wait } from "./chromium.mjs";
import { at, max, median, rounded } from "./figures.mjs";
import { kept } from "./start.mjs";

// The spaces that keep a figure with its unit are spaces.
const said = (what) => `(document.querySelector("${what}")?.textContent ?? "").replace(/\\u00a0/g, " ")`;
const title = (words) => `${said("h1")}.startsWith(${JSON.stringify(words)})`;
const foot = (words) => `${said(".foot")}.includes(${JSON.stringify(words)})`;
const main = (words) => `${said("main")}.includes(${JSON.stringify(words)})`;
const many = (what, count) => `document.querySelectorAll(${JSON.stringify(what)}).length === ${count}`;

/// A browser with the app open at its first screen, and what puts it away.
const fresh = async (address, rate) => {
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  const page = await browser.page({ before: CLOCK(0) });
  await page.go(address);
  await page.run("bench.record.then(() => true)");
  await kept(page);
  await page.slow(rate);
  return { page, close: async () => { await browser.close(); dropProfile(profile); } };
};

/// From the first screen to the finder's answer: smoked fish at 5,200 ft on a dial, 110 min
/// at 13 psi (USDA Complete Guide to Home Canning, Guide 5, pp. 5-13 and 5-14, 2015).
const find = async (page, tap) => {
  await tap("begin", "I have read this", main("Nothing is on the stove"));
  await tap("open the finder", "Can something", title("Find a tested process"));
  await page.type("Height above sea level", "5200");
  await page.type("What is in the jars", "Smoked trout");
  await page.see("Start: 100 min");
  await tap("choose a preparation", "lightly smoked", foot("Start: 110 min"));
  await tap("choose a canner", "Pressure canner, dial gauge", foot("at 13 psi"));
  await tap("start", "Start: 110 min at 13 psi", title("Load the canner"));
};

/// One walk through the whole job; hands over every tap's time and the run's long tasks.
const walk = async (address, rate) => {
  const { page, close } = await fresh(address, rate);
  const taps = {};
  const tap = async (name, words, holds, within) => {
    (taps[name] ??= []).push([await page.tap(words, holds, within), page.worked]);
  };
  try {
    await find(page, tap);
    // The run begins with the heat. The screen before it has stood for a while by then,
    // as the canner is filled, and has made the sound ready.
    await wait(1_500);
    await page.run("bench.long = [], true");
    const next = (index) => stages[index + 1]?.title ?? rest.title;
    const stage = async (index) => {
      if (stages[index].minutes > 0) await page.pass(stages[index].minutes);
      await tap(`run: ${stages[index].tap.split(":")[0]}`, stages[index].tap, title(next(index)));
    };
    for (const index of [0, 1, 2, 3]) await stage(index);
    // A drop: the full time starts over.
    await page.pass(20);
    await tap("run: Pressure dropped", "Pressure dropped", main("Heat was too low"));
    await tap("run: say why", "Heat was too low", title("Bring it up to 13 psi"));
    for (const index of [3, 4, 5, 6, 7]) await stage(index);
    await wait(200);
    const long = (await page.run("bench.long")).map(([, lasted]) => lasted);
    await page.pass(rest.minutes);
    await page.see("Check the seals");
    for (let jar = 1; jar <= 7; jar += 1) {
      await tap("check a seal", `${jar} not checked`, many(".tile.sealed", jar), ".jars");
    }
    await tap("put on the shelf", "Put on the shelf", main("On the shelf"));
    // The desk's half is fetched here, the first time.
    await tap("open the shelf, first time", "Shelf", many(".row-line", 1), "nav");
    await tap("back to today", "Today", title("Today"), "nav");
    await tap("open the shelf", "Shelf", many(".row-line", 1), "nav");
    await tap("open a lot", "Smoked trout", main("Tap the jars you take"), ".rows");
    for (let jar = 1; jar <= 3; jar += 1) await tap("take a jar out", "Eaten", many(".tile", 7 - jar));
    await wait(300);
    return { taps, long, next: await page.run("[...bench.next.values()]") };
  } finally {
    await close();
  }
};

/// The same by hand: a row kept on the disk and then shown, nothing else on the page
/// changing. No tap of the app can be sooner.
const byHand = async (address, rate) => {
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  try {
    const page = await browser.page({ before: CLOCK(0) });
    await page.go(address);
    await page.run("bench.ready.then(() => true)");
    await page.until("yardstick.open.readyState === \"done\"");
    await page.slow(rate);
    const times = [];
    for (let row = 1; row <= 12; row += 1) {
      times.push([await page.tap("Keep a row", `document.querySelector("output").textContent === "${row} kept"`), page.worked]);
    }
    // The first two make the database ready.
    return times.slice(2);
  } finally {
    await browser.close();
    dropProfile(profile);
  }
};

export const jobs = async (address, yardstick, rates, rounds) => {
  const found = [];
  for (const rate of rates) {
    const taps = {};
    const counts = [], longest = [], yard = [], next = [];
    for (let round = 0; round < rounds; round += 1) {
      const one = await walk(address, rate);
      for (const [name, times] of Object.entries(one.taps)) (taps[name] ??= []).push(...times);
      // A tap that is not told of was over within a frame.
      const count = Object.values(one.taps).flat().length;
      next.push(...Array.from({ length: count }, (_, index) => one.next[index] ?? 16));
      counts.push(one.long.length);
      longest.push(max(one.long));
      yard.push(...await byHand(yardstick, rate));
    }
    const sum = (pairs) => {
      const [times, work] = [0, 1].map((which) => pairs.map((pair) => pair[which]));
      return { p50: rounded(median(times)), p95: rounded(at(times, 0.95)), work: rounded(median(work)), workP95: rounded(at(work, 0.95)), count: times.length };
    };
    // What waits for code to be fetched is told apart.
    const all = Object.entries(taps).filter(([name]) => !name.endsWith("first time")).flatMap(([, times]) => times);
    found.push({
      rate, taps: Object.fromEntries(Object.entries(taps).map(([name, times]) => [name, sum(times)])),
      all: sum(all), byHand: sum(yard), next: { p50: rounded(median(next)), p95: rounded(at(next, 0.95)) }, longInRun: median(counts), longestInRun: rounded(median(longest)),
    });
  }
  return found;
};

const hide = (hidden) => `
  Object.defineProperty(document, "hidden", { value: ${hidden}, configurable: true });
  Object.defineProperty(document, "visibilityState", { value: "${hidden ? "hidden" : "visible"}", configurable: true });
  document.dispatchEvent(new Event("visibilitychange"))`;

/// How far the digits are from the time left at each frame of three seconds after the
/// page is looked at again: at the first frame, and at worst until the next second shows.
const offBy = `new Promise((done) => {
  const off = [];
  const until = bench.now() + 3_000;
  const look = () => {
    const shown = document.querySelector(".digits").textContent.split(":").reduce((sum, part) => sum * 60 + Number(part), 0) * 1000;
    const left = Math.abs(benchDue - Date.now());
    // Whole seconds, rounded up: right from shown - 1 s to shown.
    off.push(Math.max(0, left - shown, shown - 1000 - left));
    if (bench.now() < until) requestAnimationFrame(look); else done({ shown: off[0], worst: Math.max(...off) });
  };
  requestAnimationFrame(look);
})`;

const hiddenTwoHours = async (page) => {
  await page.run(`${hide(true)}, true`);
  await wait(1_200);
  await page.pass(120);
  await page.run(`${hide(false)}, true`);
  return page.run(offBy);
};

/// Counts over five seconds: timers fired out of sight; in sight, frames asked for,
/// intervals, and how long the page's thread was at work.
const resting = async (page) => {
  const SECONDS = 5;
  const counts = `({ fired: bench.fired, ...bench.calls })`;
  const over = async () => {
    // What the change itself sets off is over by then.
    await wait(1_100);
    const [before, worked] = [await page.run(counts), await page.work()];
    await wait(SECONDS * 1000);
    const [after, then] = [await page.run(counts), await page.work()];
    return { ...Object.fromEntries(Object.keys(after).map((name) => [name, after[name] - before[name]])), busy: then - worked };
  };
  const shown = await over();
  await page.run(`${hide(true)}, true`);
  const hidden = await over();
  await page.run(`${hide(false)}, true`);
  return {
    hiddenFired: hidden.fired, hiddenFrames: hidden.frame,
    frames: shown.frame, intervals: shown.interval + hidden.interval, shownFired: shown.fired, busy: rounded(shown.busy),
  };
};

/// The app in the hold of a quart of raw fish, 160 min (Guide 5, p. 5-11), and the
/// yardstick with three hours to go: both left for two hours.
export const clocks = async (address, yardstick) => {
  const { page, close } = await fresh(address, 1);
  const drift = {}, still = {};
  try {
    await page.tap("I have read this", main("Nothing is on the stove"));
    still["app, today"] = await resting(page);
    await page.tap("Can something", title("Find a tested process"));
    await page.type("Height above sea level", "640");
    await page.tap("quart", foot("Start: 160 min"));
    await page.tap("Start: 160 min", title("Load the canner"));
    for (let step = 0; step < 8 && !(await page.run(title("Hold"))); step += 1) {
      await page.pass(20);
      await page.until(`!document.querySelector(".foot button.main").disabled`);
      const words = await page.run(`document.querySelector(".foot button.main").innerText.replace(/\\u00a0/g, " ")`);
      const before = await page.run("document.querySelector('h1').textContent");
      await page.tap(words, `document.querySelector("h1").textContent !== ${JSON.stringify(before)}`, ".foot");
    }
    // The time of the tap, by the page's own clock, begins the hold.
    await page.run("window.benchDue = bench.wall + 160 * 60_000, true");
    still["app, the hold"] = await resting(page);
    drift.app = await hiddenTwoHours(page);
    await page.see("left, until");
  } finally {
    await close();
  }
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  try {
    const page = await browser.page({ before: CLOCK(0) });
    await page.go(yardstick);
    await page.run("bench.ready.then(() => { window.benchDue = yardstick.due; return true; })");
    still.vanilla = await resting(page);
    drift.vanilla = await hiddenTwoHours(page);
  } finally {
    await browser.close();
    dropProfile(profile);
  }
  for (const one of Object.values(drift)) for (const name of Object.keys(one)) one[name] = rounded(one[name]);
  return { drift, still };
};
