// Where the time goes when a large record is opened: `node profile.mjs [batches] [DIST]`.
// Samples both halves by the browser's own profiler and sums up by function, each alone
// (self) and with all it calls (total). A build with names in its wasm tells most:
// HEARTHJAR_PROFILE=quick keeps them.
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { serve } from "../../.ci/serve.mjs";
import { Chromium, dropProfile, wait } from "./chromium.mjs";
import { chooseFile, fileOf, phoneWith, rowsOf, shelfShown, takeFile } from "./growth.mjs";

const batches = Number(process.argv[2] ?? 10_000);
const dist = process.argv[3] ?? new URL("../../dist", import.meta.url).pathname;

const nameOf = ({ functionName, url, lineNumber }) => {
  const file = url.split("/").pop() || "browser";
  return `${functionName || "(nameless)"} [${/^wasm/.test(url) || file.endsWith(".wasm") ? file.replace(/-[0-9a-f]{8,}/, "") : `${file.replace(/-[0-9a-f]{8,}/, "")}:${lineNumber + 1}`}]`;
};

const summed = ({ nodes, samples, timeDeltas }) => {
  const byId = new Map(nodes.map((node) => [node.id, { ...node, self: 0 }]));
  samples.forEach((id, index) => { byId.get(id).self += timeDeltas[index] / 1000; });
  const self = new Map(), total = new Map();
  const walk = (node, above) => {
    const name = nameOf(node.callFrame);
    let sum = node.self;
    const under = new Set(above).add(name);
    for (const child of node.children ?? []) sum += walk(byId.get(child), under);
    self.set(name, (self.get(name) ?? 0) + node.self);
    if (!above.has(name)) total.set(name, (total.get(name) ?? 0) + sum);
    return sum;
  };
  walk(byId.get(nodes[0].id), new Set());
  return { self, total };
};

const show = (title, { self, total }) => {
  console.log(`\n${title}`);
  for (const [what, times] of [["self", self], ["total", total]]) {
    console.log(`  ${what}`);
    for (const [name, time] of [...times].filter(([name]) => !/^\((program|root|idle)\)/.test(name)).sort((a, b) => b[1] - a[1]).slice(0, what === "self" ? 25 : 60)) {
      if (time >= 5) console.log(`    ${time.toFixed(0).padStart(6)} ms  ${name.slice(0, 150)}`);
    }
  }
};

const server = await serve(dist, 0, "/", false, true);
const rows = rowsOf(batches, Date.now());
/// Opens a phone with these rows and samples what is done there, act by act.
const sample = async (kept, acts) => {
  const profile = await phoneWith(server.address, kept);
  const browser = await Chromium.open(profile);
  const page = await browser.page();
  await page.cdp("Profiler.enable");
  await page.cdp("Profiler.setSamplingInterval", { interval: 500 });
  await acts(page, profile, async (title, act) => {
    await page.cdp("Profiler.start");
    const before = await page.work();
    await act();
    await wait(500);
    const work = await page.work() - before;
    show(`${title}, ${batches} batches: ${work.toFixed(0)} ms of work`, summed((await page.cdp("Profiler.stop")).profile));
  });
  await browser.close();
  dropProfile(profile);
};

await sample(rows, async (page, _, sampled) => {
  await sampled("the stove's half opens", async () => {
    await page.go(server.address);
    await page.run("bench.record.then(() => true)");
  });
  await sampled("three quiet seconds", () => wait(3_000));
  await sampled("the desk's half opens, and the shelf", () => page.tap("Shelf", shelfShown(batches), "nav"));
});
await sample([], async (page, profile, sampled) => {
  const path = join(profile, "record.txt");
  writeFileSync(path, fileOf(rows));
  await page.go(server.address);
  await page.run("bench.record.then(() => true)");
  await sampled("a file is looked at", () => chooseFile(page, path));
  await sampled("it is taken in", () => takeFile(page, batches));
  rmSync(path);
});
process.exit(0);
