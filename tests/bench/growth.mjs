// What each thing costs as the record grows: opening, the shelf, search, scroll, files
// out and in. The record is written as the app would have written it, three jars a batch:
// the most for which 10,000 batches still fit into one file (32 MiB).
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { batch } from "../browser/harness/pantry.mjs";
import { Chromium, copyProfile, dropProfile, newProfile, wait } from "./chromium.mjs";
import { at, max, median, medians, rounded } from "./figures.mjs";
import { kept, open } from "./start.mjs";
import { lot } from "./vanilla/lots.js";

const JARS = 3;

/// Rows of so many batches; of every tenth a jar eaten, when `grown`.
export const rowsOf = (batches, now, grown = false) => Array.from({ length: batches }, (_, number) =>
  batch({ number, jars: JARS, ...lot(number, now), eaten: grown && number % 10 === 0 ? [1] : [] })).flat();

/// The record file of rows: its format stands in src/exchange/record_file.rs.
export const fileOf = (rows) => {
  const json = `{"events":[\n${rows.map(([, text]) => text).join(",\n")}\n]}`;
  const digest = createHash("sha256").update(json).digest("hex");
  return `Hearthjar record 1\nA home canning record.\nEntries: ${rows.length}\nSHA-256: ${digest}\n\n${json}\n`;
};

/// A phone that has read the safety page and keeps the app; with these rows.
export const phoneWith = async (address, rows) => {
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  const page = await browser.page();
  await page.go(address);
  await page.run("bench.record.then(() => true)");
  await page.tap("I have read this", `document.querySelector("main").textContent.includes("Nothing is on the stove")`);
  await kept(page);
  for (let from = 0; from < rows.length; from += 5_000) {
    await page.run(`new Promise((done, failed) => {
      const rows = ${JSON.stringify(rows.slice(from, from + 5_000))};
      const open = indexedDB.open("hearthjar");
      open.onsuccess = () => {
        const change = open.result.transaction("events", "readwrite");
        for (const [key, text] of rows) change.objectStore("events").put(text, key);
        change.oncomplete = () => { open.result.close(); done(true); };
        change.onabort = failed;
      };
    })`);
  }
  // Once more, so that the code is kept compiled; and the desk's half with it.
  await open(page, address);
  await page.tap("Shelf", `document.querySelector("#title")?.textContent === "Shelf"`, "nav");
  await wait(2_000);
  // And the shelf of a large record, as on every phone that was at it once.
  if (rows.length >= 1_000) await page.until(`JSON.parse(localStorage.getItem("hearthjar/shelf"))?.shelf !== undefined`, "the shelf to be kept");
  await browser.close();
  return profile;
};

/// 28 keys: words put together and taken back.
const KEYS = [..."ostermere ce", ..."⌫⌫⌫⌫⌫⌫⌫", ..."mere pi⌫⌫"];

/// Keys pressed in the search field, each from the press to its frame, and the page's
/// work for one.
export const search = async (page) => {
  await page.run("bench.keys = [], document.querySelector('.field input').focus(), true");
  const before = await page.work();
  for (const [index, char] of KEYS.entries()) {
    await page.key(char);
    await page.until(`bench.keys.length === ${index + 1}`, "the key");
  }
  const work = (await page.work() - before) / KEYS.length;
  const keys = await page.run("bench.keys");
  const value = await page.run("document.querySelector('.field input').value");
  for (const _ of value) await page.key("⌫");
  await page.until(`bench.keys.length === ${KEYS.length + value.length}`);
  // The first key may make ready what the later ones use; it is in the 95 of 100.
  return { "search, a key": median(keys), "search, p95": at(keys, 0.95), "search, work": work };
};

/// A finger's throws, and jumps to far places as by a scroll bar.
const scroll = async (page) => {
  await page.run("bench.long = [], document.activeElement.blur(), bench.watchFrames(), true");
  for (const distance of [-6_000, -9_000, 5_000]) {
    await page.cdp("Input.synthesizeScrollGesture",
      { x: 180, y: 500, yDistance: distance, speed: 6_000, gestureSourceType: "touch" });
  }
  for (const part of [0.9, 0.1, 0.5, 0]) {
    await page.run(`(() => { const long = document.querySelector(".long"); long.scrollTop = long.scrollHeight * ${part}; return true; })()`);
    await wait(150);
  }
  await wait(200);
  const { long, frames } = await page.run("(bench.watching = false, { long: bench.long, frames: bench.frames })");
  return {
    "scroll, count of long tasks": long.length, "scroll, longest task": max(long.map(([, lasted]) => lasted)),
    "scroll, frame p95": at(frames, 0.95),
  };
};

/// A long-running tap: when it was done, the longest the page did not answer, and how much
/// it worked.
const lasting = async (page, name, act) => {
  await page.run("bench.long = [], true");
  const before = await page.work();
  const took = await act();
  await wait(300);
  const longest = max((await page.run("bench.long")).map(([, lasted]) => lasted));
  return { [name]: took, [`${name}, longest task`]: longest, [`${name}, work`]: await page.work() - before };
};

export const shelfShown = (batches) => `(document.querySelector(".long [role=status]")?.textContent ?? "").replace(/\\u00a0/g, " ").includes("in ${batches} lots")`;

/// Waits until what is read behind the page after an opening is all in memory: then the
/// memory of the two halves grows no more.
const allRead = async (page) => {
  const size = () => page.run("bench.memories.map((memory) => memory.buffer.byteLength).join()");
  for (let before = "", now = await size(), still = 0; still < 4; before = now, now = await size()) {
    still = now === before ? still + 1 : 0;
    await wait(1_000);
  }
};

/// The page's work in a second in which nothing happens: it must not grow with the record.
const quiet = async (page) => {
  const before = await page.work();
  await wait(3_000);
  return (await page.work() - before) / 3;
};

/// Three jars of the oldest lot taken out: a tap that is kept, and shown by the one half
/// while the other follows.
const takeOut = async (page) => {
  await page.tap("Shelf", `document.querySelectorAll(".row-line").length > 2`, "nav");
  await page.tap("", `document.querySelectorAll(".tile").length === ${JARS}`, ".row-line");
  const times = [];
  for (let left = JARS - 1; left >= 0; left -= 1) {
    times.push([await page.tap("Eaten", `document.querySelectorAll(".tile").length === ${left}`), page.worked]);
    // Two hands are not faster than that.
    await wait(1_500);
  }
  const [taps, works] = [0, 1].map((which) => median(times.map((time) => time[which])));
  return { "take a jar out": taps, "take a jar out, work": works };
};

/// Looking around in a record: opening, shelf, search, scroll, a file out.
const around = async (address, from, batches, rate) => {
  const profile = copyProfile(from);
  const browser = await Chromium.open(profile);
  try {
    const page = await browser.page({ rate });
    const { paint, ready, record, longest, work } = await open(page, address);
    // The shelf is opened while the rest of the record is still being read.
    const shelf = await lasting(page, "open the shelf", () => page.tap("Shelf", shelfShown(batches), "nav"));
    await allRead(page);
    // What was kept is compared with all that was read: that is no quiet second yet.
    await wait(batches);
    const rest = await quiet(page);
    const { heap, wasm } = await page.memory();
    const cost = {
      "first paint": paint, ready, "record read": record, "start, longest task": longest, "start, work": work,
      "a quiet second, work": rest, ...shelf, heap, "wasm of the stove": wasm[0], "wasm of the desk": wasm[1] ?? null, ...(await search(page)), ...(await scroll(page)),
    };
    if (rate === 1) {
      Object.assign(cost, await lasting(page, "open hand over", () =>
        page.tap("Hand over", listed(batches), "nav")));
      Object.assign(cost, await lasting(page, "export", () =>
        page.tap("Share or save the file", "document.documentElement.dataset.given !== undefined")));
      cost.file = await page.run("bench.given.size");
    }
    return { ...cost, ...(await takeOut(page)) };
  } finally {
    await browser.close();
    dropProfile(profile);
  }
};

/// Chooses a file at the hand-over screen; milliseconds until what it holds is shown.
export const chooseFile = async (page, path) => {
  await page.cdp("Page.setInterceptFileChooserDialog", { enabled: true });
  await page.tap("Hand over", `document.querySelector("#desk")?.textContent.includes("Choose a file")`, "nav");
  const chooser = page.event("Page.fileChooserOpened");
  await page.press(await page.find("Choose a file"));
  const { backendNodeId } = await chooser;
  await page.run(`(window.benchFrom = bench.now(), bench.arm(() => document.querySelector("#desk .answer") !== null), true)`);
  await page.cdp("DOM.setFileInputFiles", { files: [path], backendNodeId });
  return page.run("bench.armed.then(({ painted }) => painted - benchFrom)");
};

/// The hand-over screen lists the newest batches, the older ones when asked.
const listed = (batches) => `document.querySelectorAll("main .lines li").length >= ${Math.min(batches, 50)}`;

/// Takes in what was looked at; milliseconds until the page says that all of it is kept.
export const takeFile = async (page, batches) => {
  const time = await page.tap("Take it in", `document.querySelector("#desk")?.textContent.includes("were taken in")`, "#desk");
  // The other half takes it in too, by itself, and that is felt as well.
  await page.until(listed(batches));
  return time;
};

/// Taking a file in: to what it holds, and from the tap to all of it kept.
const takeIn = async (name, address, from, path, batches) => {
  const profile = copyProfile(from);
  const browser = await Chromium.open(profile);
  try {
    const page = await browser.page();
    await open(page, address);
    const look = await lasting(page, "look", () => chooseFile(page, path));
    const took = await lasting(page, "take", () => takeFile(page, batches));
    return {
      [name]: look.look + took.take, [`${name}, looked at`]: look.look, [`${name}, taken in`]: took.take,
      [`${name}, longest task`]: max([look["look, longest task"], took["take, longest task"]]),
      [`${name}, work`]: look["look, work"] + took["take, work"],
    };
  } finally {
    await browser.close();
    dropProfile(profile);
  }
};

/// The yardstick at the same: its list of so many lots.
const yard = async (address, batches, rate) => {
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  try {
    const page = await browser.page({ rate });
    const { paint, ready, longest, work } = await open(page, `${address}?lots=${batches}`, { app: false });
    return { "first paint": paint, ready, "start, longest task": longest, "start, work": work, ...(await search(page)), ...(await scroll(page)) };
  } finally {
    await browser.close();
    dropProfile(profile);
  }
};

export const growth = async (address, yardstick, sizes, rates, rounds) => {
  const found = [];
  const now = Date.now();
  const folder = mkdtempSync(join(tmpdir(), "hearthjar-files-"));
  const empty = await phoneWith(address, []);
  for (const batches of sizes) {
    const rows = rowsOf(batches, now);
    const [file, other] = ["record.txt", "other.txt"].map((name) => join(folder, name));
    writeFileSync(file, fileOf(rows));
    writeFileSync(other, fileOf(rowsOf(batches, now, true)));
    const full = await phoneWith(address, rows);
    for (const rate of rates) {
      const app = [], vanilla = [], files = [];
      for (let round = 0; round < rounds; round += 1) {
        app.push(await around(address, full, batches, rate));
        vanilla.push(await yard(yardstick, batches, rate));
        if (rate !== 1) continue;
        files.push({ ...(await takeIn("import", address, empty, file, batches)), ...(await takeIn("merge", address, full, other, batches)) });
      }
      found.push({ page: "app", batches, rate, ...medians(app), ...(files.length > 0 ? medians(files) : {}) });
      found.push({ page: "vanilla", batches, rate, ...medians(vanilla) });
    }
    dropProfile(full);
  }
  dropProfile(empty);
  rmSync(folder, { recursive: true });
  return found.map((one) => Object.fromEntries(Object.entries(one).map(([name, value]) => [name, rounded(value)])));
};
