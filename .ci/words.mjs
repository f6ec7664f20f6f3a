// Writes the texts of the page, a file for each language and each half of the page,
// from the catalogue in src/words. Numbers them as src/words/build.rs does: a text's
// number is its line.
import { readFileSync } from "node:fs";

const FOLDER = new URL("../src/words/", import.meta.url);
const FIRST = ["app", "stove", "domain", "tables", "publications"];
const LATER = ["desk", "plan", "later"];
const LINE = /^("(?:[^"\\]|\\.)*") = ("(?:[^"\\]|\\.)*")$/;

/// The lines of a file: English and Spanish.
const read = (name) => readFileSync(new URL(`${name}.toml`, FOLDER), "utf8").split("\n")
  .filter((line) => line !== "" && !line.startsWith("#"))
  .map((line) => {
    const found = LINE.exec(line);
    if (!found) throw new Error(`src/words/${name}.toml: not a text and its translation: ${line}`);
    return found.slice(1).map((text) => JSON.parse(text));
  });

/// FNV-1a, 64 bits, as hex.
const hash = (text) => {
  let hash = 0xcbf29ce484222325n;
  for (const byte of Buffer.from(text)) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
  return hash.toString(16).padStart(16, "0");
};

/// The files by name: `words-en.txt` and so on, without the build's mark.
export const words = () => {
  const [first, later] = [FIRST, LATER].map((names) => names.flatMap(read));
  const name = hash([...first, ...later].map(([english]) => `${english}\n`).join(""));
  const shown = ([english]) => english.split("##")[0];
  const spanish = (pair) => pair[1] || shown(pair);
  const lines = (pairs, text) => pairs.map((pair) => `${text(pair)}\n`).join("");
  return {
    "en": `${name}\n${lines(first, shown)}`,
    "en-later": lines(later, shown),
    "es": `${name}\n${lines(first, spanish)}`,
    "es-later": lines(later, spanish),
  };
};
