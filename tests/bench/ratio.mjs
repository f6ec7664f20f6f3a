// What may not grow unseen, as ratios within one run and by the page's own work, so that a
// busy machine does not decide: opening a record of 1,000 batches, and its shelf, against
// one of 10, and a key of a search among 1,000 lots against the same page by hand. The lower of two rounds.
import { serve } from "../../.ci/serve.mjs";
import { Chromium, dropProfile, newProfile, wait } from "./chromium.mjs";
import { phoneWith, rowsOf, search, shelfShown } from "./growth.mjs";
import { open } from "./start.mjs";

const ROUNDS = 2;
/// Well over what was measured (tests/bench/figures.json): a guard, not an aim.
const MOST = { opening: 5, shelf: 4, key: 2 };

const here = (path) => new URL(path, import.meta.url).pathname;
const app = await serve(process.argv[2] ?? here("../../dist"), 0, "/", false, true);
const hand = await serve(here("vanilla"), 0, "/", false, true);
const now = Date.now();
const profiles = { 10: await phoneWith(app.address, rowsOf(10, now)), 1000: await phoneWith(app.address, rowsOf(1_000, now)) };

const least = { 10: Infinity, 1000: Infinity, shelf10: Infinity, shelf1000: Infinity, key: Infinity, hand: Infinity };
const keep = (name, value) => { least[name] = Math.min(least[name], value); };
for (let round = 0; round < ROUNDS; round += 1) {
  for (const batches of [10, 1_000]) {
    const browser = await Chromium.open(profiles[batches]);
    const page = await browser.page();
    keep(batches, (await open(page, app.address)).work);
    await page.tap("Shelf", shelfShown(batches), "nav");
    keep(`shelf${batches}`, page.worked);
    if (batches === 1_000) {
      // Until the rest of the record is read, its reading would be counted.
      await wait(4_000);
      keep("key", (await search(page))["search, work"]);
    }
    await browser.close();
  }
  const profile = newProfile();
  const browser = await Chromium.open(profile);
  const page = await browser.page();
  await open(page, `${hand.address}?lots=1000`, { app: false });
  keep("hand", (await search(page))["search, work"]);
  await browser.close();
  dropProfile(profile);
}
Object.values(profiles).forEach(dropProfile);

let bad = 0;
const hold = (what, of, to, most) => {
  console.log(`${what}: ${of.toFixed(1)} to ${to.toFixed(1)} ms of work, ${(of / to).toFixed(2)} times, at most ${most}`);
  if (of / to > most) bad = 1;
};
hold("opening 1,000 batches to opening 10", least[1000], least[10], MOST.opening);
hold("the shelf of 1,000 batches to that of 10", least.shelf1000, least.shelf10, MOST.shelf);
hold("a key of a search among 1,000 lots to the page by hand", least.key, least.hand, MOST.key);
process.exit(bad);
