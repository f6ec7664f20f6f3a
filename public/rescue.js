// When the app has stopped with a fault: its running clocks and the record as a
// file, without the app. Invariant: it only reads.

const NAME = /^[0-9a-f]{32}$/;
const LONGEST = 8_192;
const ENGLISH = {
  until: (title, time) => `${title}, until ${time}.`,
  since: (title, time) => `${title}, since ${time}.`,
  save: "Save the record as a file",
  saved: "Saved as hearthjar-rescued.txt",
  unread: "The record could not be read here. Open again.",
};
const SPANISH = {
  until: (title, time) => `${title}, hasta las ${time}.`,
  since: (title, time) => `${title}, desde las ${time}.`,
  save: "Guardar el registro en un archivo",
  saved: "Guardado como hearthjar-rescued.txt",
  unread: "Aquí no se pudo leer el registro. Abra de nuevo.",
};

const rows = () => new Promise((done, fail) => {
  const open = indexedDB.open("hearthjar");
  // A record that is not there must not be made here.
  open.onupgradeneeded = () => open.transaction.abort();
  open.onerror = () => fail(open.error);
  open.onsuccess = () => {
    const all = open.result.transaction("events").objectStore("events").getAll();
    all.onsuccess = () => { open.result.close(); done(all.result); };
    all.onerror = () => fail(all.error);
  };
});

// As src/batch/event.rs reads them: one row that is none would spoil the whole file.
const isEvent = (row) => {
  try {
    const { id, batch, seq, at, what } = JSON.parse(row);
    return typeof row === "string" && new TextEncoder().encode(row).length <= LONGEST
      && NAME.test(id) && NAME.test(batch) && what !== undefined
      && Number.isInteger(seq) && seq >= 0 && Number.isInteger(at) && at >= 0;
  } catch {
    return false;
  }
};

// A large take-in on its way into the record stands in rows of many events, one a line
// (src/exchange/pieces.rs); some of them may have rows of their own already.
const lines = (row) => (typeof row === "string" ? row.split("\n") : []);

// The record file of src/exchange/record_file.rs.
const record = async () => {
  const events = [...new Set((await rows()).flatMap(lines))].filter(isEvent);
  const json = `{"events":[\n${events.join(",\n")}\n]}`;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(json)));
  const hex = [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `Hearthjar record 1\nA home canning record. To read it: open Hearthjar, Hand over, Take in a file.\nEntries: ${events.length}\nSHA-256: ${hex}\n\n${json}\n`;
};

const save = async (button, say) => {
  try {
    const address = URL.createObjectURL(new Blob([await record()], { type: "text/plain" }));
    Object.assign(document.createElement("a"), { href: address, download: "hearthjar-rescued.txt" }).click();
    button.textContent = say.saved;
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
  } catch (error) {
    console.error(error);
    button.textContent = say.unread;
  }
};

const clocks = () => {
  try {
    return JSON.parse(localStorage.getItem("hearthjar/clocks")) ?? [];
  } catch {
    return [];
  }
};

/// The running clocks as lines, and a button that saves the record as a file, in a
/// language: "en" or "es".
export const rescue = (language) => {
  const say = language === "es" ? SPANISH : ENGLISH;
  const time = (at) => new Date(at).toLocaleTimeString([], { hour: "numeric", minute: "2-digit" });
  const lines = clocks().map(({ content, title, since, due }) => {
    const line = document.createElement("p");
    const what = `${content}: ${title}`;
    line.textContent = due ? say.until(what, time(due)) : say.since(what, time(since));
    return line;
  });
  const button = document.createElement("button");
  button.className = "second";
  button.textContent = say.save;
  button.addEventListener("click", () => save(button, say));
  return [...lines, button];
};
