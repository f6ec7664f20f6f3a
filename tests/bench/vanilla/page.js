// The yardstick: the same shelf list and the same timer, by hand, with no library. Rows
// in view only, a search over all words, a clock told by the deadline. `?lots=N`.
import { lot } from "./lots.js";

const HEIGHT = 108, SPARE = 3, JARS = 3, DAY = 86_400_000;
const count = Number(new URLSearchParams(location.search).get("lots") ?? 1_000);
const now = Date.now();
const dates = new Intl.DateTimeFormat("en-US", { day: "numeric", month: "short", year: "numeric" });
const day = (at) => dates.format(at);
const lots = Array.from({ length: count }, (_, number) => {
  const { content, place, lids, canned } = lot(number, now);
  return { content, place, canned, words: `${content} pint raw ${place} ${lids}`.toLowerCase() };
}).sort((a, b) => a.canned - b.canned);

const scroller = document.querySelector(".long");
const list = scroller.querySelector("ul");
const says = document.querySelector("[role=status]");
let found = lots;
const rows = [];

const row = () => {
  const li = document.createElement("li");
  li.className = "line row-line";
  const a = document.createElement("a");
  const parts = ["b", "span", "span"].map((name) => {
    const text = document.createTextNode("");
    const element = document.createElement(name);
    element.append(text);
    a.append(element);
    return text;
  });
  li.append(a);
  list.append(li);
  return { li, a, parts, shows: null, at: -1 };
};

const place = () => {
  const wanted = Math.min(found.length, Math.ceil(scroller.clientHeight / HEIGHT) + 2 * SPARE + 2);
  const first = Math.max(0, Math.min(Math.floor(scroller.scrollTop / HEIGHT) - SPARE, found.length - wanted));
  while (rows.length < wanted) rows.push(row());
  while (rows.length > wanted) rows.pop().li.remove();
  // A line keeps its row while it stays in view.
  for (let line = first; line < first + wanted; line += 1) {
    const one = rows[line % wanted];
    const what = found[line];
    if (one.at !== line) {
      one.at = line;
      one.li.style.transform = `translateY(${line * HEIGHT}px)`;
    }
    if (one.shows === what) continue;
    one.shows = what;
    one.a.href = `#/lot/${line}`;
    one.parts[0].data = what.content;
    one.parts[1].data = `${JARS} × pint, raw, ${what.place}`;
    const until = what.canned + 365 * DAY;
    one.parts[2].data = until < now ? `Past its best: ${day(until)}` : `Best by ${day(until)}`;
  }
};

const show = () => {
  list.style.height = `${found.length * HEIGHT}px`;
  says.textContent = `${found.length * JARS} jars in ${found.length} lots, oldest first.`;
  place();
};

document.querySelector("input").addEventListener("input", (event) => {
  const words = event.target.value.toLowerCase().split(/\s+/).filter(Boolean);
  found = words.length === 0 ? lots : lots.filter((lot) => words.every((word) => lot.words.includes(word)));
  show();
});
scroller.addEventListener("scroll", place, { passive: true });

// Three hours to go from the opening.
const due = now + 180 * 60_000;
const digits = document.querySelector(".digits");
const tick = () => {
  const left = Math.max(0, Math.ceil((due - Date.now()) / 1000));
  const two = (n) => String(n).padStart(2, "0");
  digits.textContent = `${Math.floor(left / 3600)}:${two(Math.floor(left / 60) % 60)}:${two(left % 60)}`;
};
const again = () => {
  tick();
  setTimeout(again, 1_005 - (Date.now() % 1_000));
};
document.addEventListener("visibilitychange", () => { if (!document.hidden) tick(); });
again();

// A tap that counts once its row is on the disk, as in the app.
const open = indexedDB.open("yardstick", 1);
open.onupgradeneeded = () => open.result.createObjectStore("rows");
let kept = 0;
document.querySelector("button").addEventListener("click", () => {
  const transaction = open.result.transaction("rows", "readwrite", { durability: "strict" });
  transaction.objectStore("rows").put(JSON.stringify({ at: Date.now(), what: "a tap", number: kept }), `row/${kept}`);
  transaction.oncomplete = () => {
    kept += 1;
    document.querySelector("output").textContent = `${kept} kept`;
  };
});
window.yardstick = { due, open };
show();
document.documentElement.dataset.ready = "yes";
