import { Chromium, dropProfile, newProfile, wait } from "./chromium.mjs";
import { kept } from "./start.mjs";
import { serve } from "../../.ci/serve.mjs";
const dist = process.argv[2], rate = Number(process.argv[3] ?? 1);
const server = await serve(dist, 0, "/", false, true);
const profile = newProfile();
const open = async (trace) => {
  const browser = await Chromium.open(profile);
  const page = await browser.page({ rate });
  const events = [];
  if (trace) {
    await browser.send("Tracing.start", { transferMode: "ReportEvents", traceConfig: { includedCategories: ["devtools.timeline", "v8", "blink", "blink.user_timing", "IndexedDB", "toplevel", "loading", "net", "ServiceWorker", "disabled-by-default-v8.compile", "v8.wasm"] } });
    const orig = browser.hear.bind(browser);
    browser.hear = (m) => { if (m.method === "Tracing.dataCollected") events.push(...m.params.value); orig(m); };
  }
  const w0 = await page.work();
  await page.go(server.address);
  await page.run("bench.ready.then(() => true)");
  await page.run("bench.record.then(() => true)");
  console.log(trace ? "TRACED" : "warm-up", JSON.stringify(await page.run("bench.marks")), "work", (await page.work() - w0).toFixed(0));
  if (process.env.RES) console.log(JSON.stringify(await page.run("performance.getEntriesByType('resource').concat(performance.getEntriesByType('navigation')).map(e=>[e.name.split('/').pop(), e.startTime|0, e.workerStart|0, e.responseStart|0, e.responseEnd|0])")).replaceAll("],", "],\n"));
  if (trace) {
    const done = browser.event("Tracing.tracingComplete", undefined);
    await browser.send("Tracing.end");
    await done;
    const cand = new Map();
    for (const e of events) if (e.name === "FunctionCall" || e.name === "ParseHTML" || e.name === "Layout") cand.set(`${e.pid}:${e.tid}`, (cand.get(`${e.pid}:${e.tid}`) ?? 0) + 1);
    const thread = [...cand].sort((a, b) => b[1] - a[1])[0][0];
    const mine = events.filter((e) => `${e.pid}:${e.tid}` === thread && e.ph === "X").sort((a, b) => a.ts - b.ts || b.dur - a.dur);
    const self = new Map(), count = new Map();
    const stack = [];
    for (const e of mine) {
      while (stack.length && stack.at(-1).ts + stack.at(-1).dur <= e.ts) stack.pop();
      const d = (e.tdur ?? 0) / 1000;
      if (stack.length) { const n = stack.at(-1).name; self.set(n, self.get(n) - d); }
      self.set(e.name, (self.get(e.name) ?? 0) + d);
      count.set(e.name, (count.get(e.name) ?? 0) + 1);
      stack.push(e);
    }
    console.log([...self].filter(([, v]) => v > 0.4).sort((a, b) => b[1] - a[1]).slice(0, 40).map(([n, v]) => `${v.toFixed(1).padStart(7)} ${n} (${count.get(n)})`).join("\n"));
    (await import("node:fs")).writeFileSync(`/tmp/boot-${rate}.json`, JSON.stringify(events));
  } else { await kept(page); await wait(1500); }
  await browser.close();
};
await open(false); await open(false); await open(true); if (process.env.RES) await open(false);
dropProfile(profile); process.exit(0);
