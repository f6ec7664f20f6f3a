// All that is measured, in one table and in figures.json: see .ci/bench.
//   --rounds 7        how often each thing is done; every figure is the median
//   --rates 1,4,6     how much slower than this machine's processor
//   --sizes 10,1000,10000   batches in the record
//   --only sizes,start,job,clocks,growth    parts of it; the file keeps the others'
//   --to FILE         where the figures go instead
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { serve } from "../../.ci/serve.mjs";
import { draw } from "./curves.mjs";
import { load, machine, table } from "./figures.mjs";
import { growth } from "./growth.mjs";
import { clocks, jobs } from "./job.mjs";
import { sizes } from "./sizes.mjs";
import { starts } from "./start.mjs";
import { targets } from "./targets.mjs";

const here = (path) => new URL(path, import.meta.url).pathname;
const given = (name, otherwise) => {
  const index = process.argv.indexOf(`--${name}`);
  return index < 0 ? otherwise : process.argv[index + 1];
};
const numbers = (name, otherwise) => given(name, otherwise).split(",").map(Number);

const rounds = Number(given("rounds", "7"));
const rates = numbers("rates", "1,4,6");
const amounts = numbers("sizes", "10,1000,10000");
const parts = given("only", "sizes,start,job,clocks,growth").split(",");
const file = given("to", here("figures.json"));
const folders = { app: given("app", here("../../dist")), counter: here("counter/dist"), vanilla: here("vanilla") };

const servers = {};
for (const [name, folder] of Object.entries(folders)) servers[name] = await serve(folder, 0, "/", false, true);
const { app, counter, vanilla } = Object.fromEntries(Object.entries(servers).map(([name, { address }]) => [name, address]));

// A host has its files compressed already: none is to be waited for.
for (const [name, { address }] of Object.entries(servers)) {
  for (const path of readdirSync(folders[name], { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())) {
    const inside = `${path.parentPath ?? path.path}/${path.name}`.slice(folders[name].length).replace(/^\//, "");
    await (await fetch(address + inside, { headers: { "accept-encoding": "br" } })).arrayBuffer();
  }
  await (await fetch(address, { headers: { "accept-encoding": "br" } })).arrayBuffer();
}

const before = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : {};
const figures = { ...before };
const part = async (name, work) => {
  if (!parts.includes(name)) return;
  const [start, busy] = [Date.now(), load()];
  Object.assign(figures, await work());
  figures.taken = { ...figures.taken, [name]: { ...machine(), rounds, "load before": busy } };
  process.stderr.write(`${name}: ${Math.round((Date.now() - start) / 1000)} s\n`);
  // Kept at once: an hour's figures must not hang on the last of them.
  writeFileSync(file, `${JSON.stringify(figures, null, 1)}\n`);
};

await part("sizes", async () => ({ sizes: sizes(folders.app, folders.counter, folders.vanilla) }));
await part("clocks", () => clocks(app, vanilla));
await part("start", async () => ({
  start: await starts([
    { page: "app", address: app, app: true },
    { page: "counter", address: counter, app: false },
    { page: "vanilla", address: `${vanilla}?lots=1000`, app: false },
  ], rates, rounds),
}));
await part("job", async () => ({ job: await jobs(app, vanilla, rates, rounds) }));
await part("growth", async () => ({ growth: await growth(app, vanilla, amounts, rates.filter((rate) => rate <= 4), rounds) }));

figures.targets = targets(figures);
writeFileSync(file, `${JSON.stringify(figures, null, 1)}\n`);
if (figures.growth && file === here("figures.json")) writeFileSync(here("growth.svg"), draw(figures.growth));
console.log(table(figures));
console.log("\nTargets:");
for (const { what, target, is, met } of figures.targets) console.log(`  ${met === null ? "?   " : met ? "met " : "MISS"}  ${what}: ${is}, target ${target}`);
console.log(`\nMedians of ${rounds}. ${Object.entries(figures.taken).map(([name, { date, "load before": busy }]) => `${name} ${date}, load ${busy}`).join("; ")}`);
process.exit(0);
