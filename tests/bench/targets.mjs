// What is aimed at, and whether it is met. A figure that was not taken is unknown, not met.
const ms = (value) => `${Math.round(value)} ms`;

export const targets = ({ sizes, start = [], job = [], drift, still, growth = [] }) => {
  const list = [];
  /// `least` to `most` are what is allowed.
  const aim = (what, value, most, say = ms) => list.push({
    what, target: `at most ${say(most)}`, is: value === undefined || value === null || Number.isNaN(value) ? "not measured" : say(value),
    met: value === undefined || value === null || Number.isNaN(value) ? null : value <= most,
  });
  const started = (kind) => start.find((one) => one.page === "app" && one.rate === 4 && one.kind === kind);
  const of = (page, batches, rate = 1) => growth.find((one) => one.page === page && one.batches === batches && one.rate === rate);
  const times = (value) => `${value.toFixed(2)} times`;
  const ratio = (a, b) => (a === undefined || !b ? undefined : a / b);
  aim("stove's wasm", sizes?.["stove's wasm"].brotli, 130_000, (value) => `${value} bytes of brotli`);
  aim("ready, cold, at 4x", started("cold")?.ready, 1_000);
  aim("ready, warm, at 4x", started("warm")?.ready, 400);
  aim("record read, cold, at 4x", started("cold")?.record, 1_000);
  const four = job.find(({ rate }) => rate === 4);
  aim("tap to paint, p95 at 4x", four?.all.p95, 50);
  // By the Event Timing API: the next frame, which may not yet show what is being kept.
  aim("tap to the next paint, p95 at 4x", four?.next?.p95, 50);
  for (const { rate, longestInRun } of job) aim(`longest task of a run, at ${rate}x`, longestInRun, 50);
  for (const rate of [1, 4]) {
    const [small, large] = [of("app", 10, rate), of("app", 10_000, rate)];
    aim(`ready with 10,000 batches to that with 10, at ${rate}x`, ratio(large?.ready, small?.ready), 1.3, times);
    aim(`record read with 10,000 batches to that with 10, at ${rate}x`, ratio(large?.["record read"], small?.["record read"]), 1.3, times);
  }
  for (const rate of [1, 4]) {
    const [small, large] = [of("app", 10, rate), of("app", 10_000, rate)];
    aim(`a jar taken out of 10,000 batches to that of 10, at ${rate}x`, ratio(large?.["take a jar out"], small?.["take a jar out"]), 1.3, times);
  }
  const large = of("app", 10_000);
  aim("a quiet second with 10,000 batches, work at 4x", of("app", 10_000, 4)?.["a quiet second, work"], 50);
  aim("import of 10,000 batches", large?.import, 2_000);
  aim("longest task of that import", large?.["import, longest task"], 50);
  for (const rate of [1, 4]) {
    const [mine, yard] = [of("app", 10_000, rate), of("vanilla", 10_000, rate)];
    for (const name of ["search, a key", "search, p95", "search, work", "scroll, frame p95"]) {
      aim(`${name}, 10,000 lots at ${rate}x, to the vanilla page`, ratio(mine?.[name], yard?.[name]), 1.3, times);
    }
    aim(`scroll, longest task, 10,000 lots at ${rate}x`, mine?.["scroll, longest task"], 50);
  }
  aim("clock after 2 h hidden, off by", drift?.app.shown, 50);
  for (const [page, one] of Object.entries(still ?? {}).filter(([page]) => page.startsWith("app"))) {
    aim(`timers fired in 5 s hidden, ${page}`, one.hiddenFired, 6, String);
    aim(`frames asked for when nothing moves, ${page}`, one.frames + one.hiddenFrames, 0, String);
  }
  return list;
};
