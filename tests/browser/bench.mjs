// How fast the shelf is with 10,000 jars in 1,000 batches: `node bench.mjs [rounds]`.
// Prints, at full speed and at a processor four times slower: from a key's press to
// its result on the screen, long tasks (over 50 ms, W3C Long Tasks) while scrolling,
// and from a tap to the jar gone. Each figure is the median of the rounds.
import { Phone, newProfile } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { batch, fill } from "./harness/pantry.mjs";
import { serve } from "../../.ci/serve.mjs";

const ROUNDS = Number(process.argv[2] ?? 3);
const NAMES = ["Trout, Lake Ostermere", "Char from the north arm", "Pike, spring net", "Whitefish",
  "Grayling, Tove", "Burbot", "Perch, Anselm's bay"];
const PLACES = ["Cellar, left", "Cellar, right", "Cabin shelf", "Pantry"];
const LIDS = ["L-204", "L-310", "M 77", ""];
const DAY = 86_400_000;

const pantry = () => {
  const now = Date.now();
  return Array.from({ length: 1_000 }, (_, number) => batch({
    number, jars: 10, content: NAMES[number % 7], place: PLACES[number % 4],
    lids: LIDS[number % 4], canned: now - (3 + number * 0.4) * DAY,
  })).flat();
};

/// Runs in the page: times keys from press to paint, collects long tasks.
const WATCH = `
  window.bench = { keys: [], long: [], says: [] };
  new PerformanceObserver((list) => list.getEntries().forEach((e) => bench.long.push(e.duration)))
    .observe({ type: "longtask" });
  let pressed = 0;
  addEventListener("keydown", (event) => { pressed = event.timeStamp; }, true);
  addEventListener("input", () => {
    const from = pressed;
    // The frame that shows the result has been handed over when the task after it runs.
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        bench.keys.push(performance.now() - from);
        bench.says.push(document.querySelector(".long [role=status]").innerText);
      };
      port2.postMessage(0);
    });
  }, true);`;

const wait = (ms) => new Promise((done) => setTimeout(done, ms));

const key = async (phone, char) => {
  const one = char === "⌫"
    ? { key: "Backspace", code: "Backspace", windowsVirtualKeyCode: 8 }
    : { key: char, text: char, windowsVirtualKeyCode: char.toUpperCase().charCodeAt(0) };
  await phone.cdp("Input.dispatchKeyEvent", { type: "keyDown", ...one });
  await phone.cdp("Input.dispatchKeyEvent", { type: "keyUp", ...one });
};

/// 28 keys: words put together and taken back.
const KEYS = [..."ostermere ce", ..."⌫⌫⌫⌫⌫⌫⌫", ..."mere pi⌫⌫"];

const search = async (phone) => {
  await phone.run(`bench.keys = []; bench.says = []; document.querySelector(".field input").focus();`);
  for (const [index, char] of KEYS.entries()) {
    await key(phone, char);
    await phone.until(() => phone.run("return bench.keys.length === arguments[0]", index + 1), "the key");
    await wait(60);
  }
  const { keys, says } = await phone.run("return bench");
  if (says[8] !== "1430 jars in 143 lots, oldest first.") throw new Error(`found ${says[8]}`);
  for (let left = await phone.run("return document.querySelector('.field input').value.length"); left > 0; left--) {
    await key(phone, "⌫");
  }
  await phone.see("10000 jars", 30_000).catch(() => phone.see("jars in 1000 lots", 30_000));
  return keys;
};

const scroll = async (phone) => {
  await phone.run("bench.long = []; document.activeElement.blur();");
  for (const distance of [-12_000, -20_000, 9_000]) {
    await phone.cdp("Input.synthesizeScrollGesture",
      { x: 180, y: 400, yDistance: distance, speed: 6_000, gestureSourceType: "touch" });
  }
  // Thrown to far places, as by a scroll bar.
  for (const part of [0.9, 0.1, 0.5, 0]) {
    await phone.run("const p = document.querySelector('.long'); p.scrollTop = p.scrollHeight * arguments[0];", part);
    await wait(150);
  }
  await wait(300);
  return phone.run("return bench.long");
};

const takeOut = async (phone, line) => {
  await phone.run("document.querySelectorAll('.row-line a')[arguments[0]].click()", line);
  await phone.see("Tap the jars you take");
  await wait(500);
  await phone.run("bench.long = []; bench.taken = [];");
  for (let jar = 0; jar < 4; jar++) {
    await phone.driver.executeAsyncScript(`
      const done = arguments[0];
      const tap = [...document.querySelectorAll("button.mode")].find((b) => b.innerText === "Eaten");
      const jars = () => document.querySelectorAll(".tile").length;
      const before = jars();
      const from = performance.now();
      const look = () => {
        if (jars() === before) return requestAnimationFrame(look);
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => { bench.taken.push(performance.now() - from); done(); };
        port2.postMessage(0);
      };
      requestAnimationFrame(look);
      tap.click();`);
    await wait(400);
  }
  const { taken, long } = await phone.run("return { taken: bench.taken, long: bench.long }");
  await phone.run("bench.long = []; history.back();");
  await phone.see("jars in", 30_000);
  await wait(500);
  const back = await phone.run("return bench.long");
  return { taken, long, back };
};

const sorted = (list) => [...list].sort((a, b) => a - b);
const at = (list, part) => {
  const all = sorted(list);
  return all[Math.min(all.length - 1, Math.ceil(all.length * part) - 1)] ?? 0;
};
const middle = (list) => at(list, 0.5);
const max = (list) => Math.max(0, ...list);

const server = await serve(dist, 0, "/");
const phone = await Phone.open(server.address, { profile: newProfile() });
try {
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await fill(phone, pantry());
  await phone.load();
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("jars in 1000 lots", 60_000);
  await phone.run(WATCH);
  const lines = [];
  let line = 0;
  for (const rate of [1, 4]) {
    await phone.cdp("Emulation.setCPUThrottlingRate", { rate });
    const rounds = [];
    for (let round = 0; round <= ROUNDS; round++) {
      const keys = await search(phone);
      const long = await scroll(phone);
      // Another lot each time, so that none runs out.
      const out = await takeOut(phone, line++);
      // The first round is for warming up.
      if (round > 0) rounds.push({ keys, long, out });
    }
    const of = (work) => middle(rounds.map(work)).toFixed(1);
    lines.push({
      "slower by": rate,
      "key p50": of(({ keys }) => middle(keys)),
      "key p95": of(({ keys }) => at(keys, 0.95)),
      "key max": of(({ keys }) => max(keys)),
      "scroll long tasks": of(({ long }) => long.length),
      "longest": of(({ long }) => max(long)),
      "jar out p50": of(({ out }) => middle(out.taken)),
      "jar out max": of(({ out }) => max(out.taken)),
      "its longest task": of(({ out }) => max(out.long)),
      "way back longest": of(({ out }) => max(out.back)),
    });
  }
  console.table(lines);
  console.log(`median of ${ROUNDS} rounds, milliseconds; ${KEYS.length} keys a round`);
} finally {
  await phone.close();
  await server.stop?.();
}
