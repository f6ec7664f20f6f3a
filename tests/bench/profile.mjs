// Where the time goes when a large record is opened: `node profile.mjs [batches] [DIST]`.
// Samples both halves by the browser's own profiler and sums up by function, each alone
// (self) and with all it calls (total). A build with names in its wasm tells most:
// HEARTHJAR_PROFILE=quick keeps them.
import { serve } from "../../.ci/serve.mjs";
import { Chromium, dropProfile, wait } from "./chromium.mjs";
import { phoneWith, rowsOf, shelfShown } from "./growth.mjs";

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
    for (const [name, time] of [...times].filter(([name]) => !/^\((program|root|idle)\)/.test(name)).sort((a, b) => b[1] - a[1]).slice(0, what === "self" ? 30 : 60)) {
      if (time >= 3) console.log(`    ${time.toFixed(0).padStart(6)} ms  ${name.slice(0, 150)}`);
    }
  }
};

const server = await serve(dist, 0, "/", false, true);
const profile = await phoneWith(server.address, rowsOf(batches, Date.now()));
const browser = await Chromium.open(profile);
const page = await browser.page();
await page.cdp("Profiler.enable");
await page.cdp("Profiler.setSamplingInterval", { interval: 500 });
const sampled = async (title, act) => {
  await page.cdp("Profiler.start");
  await act();
  await wait(500);
  show(title, summed((await page.cdp("Profiler.stop")).profile));
};
await sampled(`the stove's half, ${batches} batches`, async () => {
  await page.go(server.address);
  await page.run("bench.record.then(() => true)");
  console.log(await page.run("bench.marks"), await page.run("bench.long"));
});
await sampled(`the desk's half and the shelf, ${batches} batches`, async () => {
  console.log("shelf", await page.tap("Shelf", shelfShown(batches), "nav"));
});
await browser.close();
dropProfile(profile);
process.exit(0);
