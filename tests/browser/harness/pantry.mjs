// A household's record, written as the app would have written it: batches of fish
// in pints, one load each, 100 min at 10 psi on a weight or 11 psi on a dial (USDA
// Complete Guide to Home Canning, Guide 5, p. 5-11, 2015).

const HOUR = 3_600_000;
const hex = (kind, number) => kind + number.toString(16).padStart(30, "0");
export const HOUSEHOLD = "0".repeat(32);

/// Canonical text: members sorted by name.
const text = (value) => {
  if (Array.isArray(value)) return `[${value.map(text).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const members = Object.keys(value).sort().map((name) => `${JSON.stringify(name)}:${text(value[name])}`);
  return `{${members.join(",")}}`;
};

/// Rows of one log: `[key, text]`, for the bodies with their times.
const rows = (batch, number, bodies) =>
  bodies.map(([at, what], index) => {
    const id = hex("ee", number * 100 + index + 1);
    return [`${batch}/${id}`, text({ id, batch, seq: index + 1, at, what })];
  });

/// One batch of one load. `jars` is how many were put up; `unsealed` the numbers of
/// those that did not seal; `eaten` of those eaten since; `added` the psi set above the
/// table for a dial that reads high.
export const batch = ({ number, content = "Trout, Lake Ostermere", canned, jars = 8, dial = false,
  canner = "", added = 0, lids = "", place = "Cellar, left", feet = 640, unsealed = [], eaten = [] }) => {
  const name = hex("bb", number);
  const load = hex("ee", number * 100 + 2);
  const began = canned - 100 * 60_000;
  const ran = (minutes, step) => [began + minutes * 60_000, { ran: { load, step } }];
  const after = canned + 14 * HOUR;
  const numbers = Array.from({ length: jars }, (_, index) => index + 1);
  const bodies = [
    [began - 2 * HOUR, { batch_started: { content, product: "fish", pack: "raw", jar: "pint",
      altitude: feet, place: "", demo: false } }],
    [began - 2 * HOUR, { load_planned: { process: "fish-raw-pint", minutes: 100,
      pressure: dial ? 110 : 100, gauge: dial ? "dial" : "weighted", vent: 10, heat_before_vent: 0,
      heat_plus_vent: 0, canner_quarts: 16, canner, jars, added,
      publication: "USDA Complete Guide to Home Canning, Guide 5, p. 5-11, 2015" } }],
    ran(-40, "heat_on"), ran(-15, "steam_steady"), ran(-4, "vent_closed"), ran(0, "at_pressure"),
    ran(100, "heat_off"), ran(140, "weight_off"), ran(151, "lid_opened"), ran(155, "unloaded"),
    ...(lids ? [[after, { lids_used: { load, lot: lids } }]] : []),
    ...numbers.map((jar) => [after, { seal_checked: { load, jar,
      seal: unsealed.includes(jar) ? "not_sealed" : "sealed" } }]),
    ...unsealed.map((jar) => [after, { unsealed_settled: { load, jar, way: "frozen" } }]),
    [after, { shelved: { load, place } }],
    ...eaten.map((jar, index) => [after + (index + 1) * 240 * HOUR, { jar_taken: { load, jar, how: "eaten" } }]),
  ];
  return rows(name, number, bodies);
};

/// A canner with a dial, and checks of it: `[when, psi it read, psi of the standard]`.
export const canner = ({ number, name, checks = [] }) => {
  const canner = hex("cc", number);
  const bodies = [[0, { canner_kept: { canner, name, gauge: "dial", quarts: 16, gone: false } }],
    ...checks.map(([at, reading, standard]) => [at, { gauge_checked: { canner,
      reading: reading * 10, standard: standard * 10 } }])];
  return rows(HOUSEHOLD, 900_000 + number, bodies);
};

/// Puts rows straight into the page's database.
export const fill = async (phone, rows) => {
  for (let from = 0; from < rows.length; from += 4_000) {
    await phone.driver.executeAsyncScript(`
      const [rows, done] = arguments;
      const open = indexedDB.open("hearthjar");
      open.onsuccess = () => {
        const change = open.result.transaction("events", "readwrite");
        for (const [key, text] of rows) change.objectStore("events").put(text, key);
        change.oncomplete = () => { open.result.close(); done(); };
      };`, rows.slice(from, from + 4_000));
  }
};

/// How many rows the page's database has.
export const rowCount = (phone) => phone.driver.executeAsyncScript(`
  const done = arguments[0];
  indexedDB.open("hearthjar").onsuccess = ({ target: { result: db } }) => {
    db.transaction("events").objectStore("events").count().onsuccess = ({ target }) => { db.close(); done(target.result); };
  };`);
