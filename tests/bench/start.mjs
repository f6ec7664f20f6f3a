// How soon a page is there: first paint, ready, the record read; on a phone that never
// saw it (cold) and on one that did (warm). Two starts of the browser a round.
import { Chromium, dropProfile, newProfile, wait } from "./chromium.mjs";
import { max, medians } from "./figures.mjs";

/// Opens an address and times it.
export const open = async (page, address, { app = true } = {}) => {
  await page.go(address);
  await page.run("bench.ready.then(() => true)");
  if (app) await page.run("bench.record.then(() => true)");
  await page.until("bench.marks.paint !== undefined");
  // A long task that is just over is told of a little later.
  await wait(150);
  const work = await page.work();
  const { paint, ready, record, long } = await page.run("({ ...bench.marks, long: bench.long })");
  return { paint, ready, record: app ? record : null, longest: max(long.map(([, lasted]) => lasted)), work };
};

/// Waits until the service worker holds the whole app.
export const kept = (page) => page.run(`navigator.serviceWorker.ready.then(async () => {
  while (!(await caches.keys()).some((name) => name.startsWith("hearthjar-"))) await new Promise((done) => setTimeout(done, 50));
  return true;
})`);

/// One cold and one warm opening.
export const coldAndWarm = async (address, rate, app) => {
  const profile = newProfile();
  try {
    const times = {};
    for (const kind of ["cold", "warm"]) {
      const browser = await Chromium.open(profile);
      const page = await browser.page({ rate });
      times[kind] = await open(page, address, { app });
      await page.slow(1);
      if (app && kind === "cold") {
        await kept(page);
        // Compiled code is kept with the next opening that runs it.
        await open(page, address, { app });
        await wait(1_500);
      }
      await browser.close();
    }
    return times;
  } finally {
    dropProfile(profile);
  }
};

/// The medians of all pages at all rates. Pages take turns, so that a busy minute of the
/// machine hits them alike.
export const starts = async (pages, rates, rounds) => {
  const found = [];
  for (const rate of rates) {
    const all = pages.map(() => ({ cold: [], warm: [] }));
    for (let round = 0; round < rounds; round += 1) {
      for (const [index, { address, app }] of pages.entries()) {
        const { cold, warm } = await coldAndWarm(address, rate, app);
        all[index].cold.push(cold);
        all[index].warm.push(warm);
      }
    }
    for (const [index, { page }] of pages.entries()) {
      for (const kind of ["cold", "warm"]) found.push({ page, rate, kind, ...medians(all[index][kind]) });
    }
  }
  return found;
};
