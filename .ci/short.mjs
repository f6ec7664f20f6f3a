// Shortens the names by which a half's wasm and its script know each other: long, full
// of hashes, fetched twice and told to nobody. Invariant: each name stays one name in
// both files, and a pair that is short already is left as it is.
import { readFileSync, writeFileSync } from "node:fs";
import { leb, reader, sections, text } from "./binary.mjs";

const IMPORTS = 2;
const EXPORTS = 7;
const LONG = /^(?:__wb|__externref_|wasm_bindgen_)\w+$/;

/// A section's content with other names.
const renamed = (id, content, short) => {
  const read = reader(content);
  const count = read.number();
  const parts = [leb(count)];
  for (let each = 0; each < count; each += 1) {
    if (id === IMPORTS) parts.push(text(read.name()), text(short(read.name())), read.described());
    else parts.push(text(short(read.name())), read.take(1), leb(read.number()));
  }
  return Buffer.concat(parts);
};

/// Shortens the names that the two files share; says whether there were any.
export const shorten = (wasmPath, scriptPath) => {
  const wasm = readFileSync(wasmPath);
  let script = readFileSync(scriptPath, "utf8");
  const names = new Map();
  const used = new Set(script.match(/[\w$]+/g));
  const short = (name) => {
    if (!LONG.test(name) || !used.has(name)) return name;
    if (!names.has(name)) names.set(name, `$${names.size.toString(36)}`);
    return names.get(name);
  };
  const parts = [wasm.subarray(0, 8)];
  for (const { id, content } of sections(wasm)) {
    const changed = id === IMPORTS || id === EXPORTS ? renamed(id, content, short) : content;
    parts.push(leb(id), leb(changed.length), changed);
  }
  if (names.size === 0) return false;
  for (const name of names.values()) {
    if (used.has(name)) throw new Error(`the script has a name of its own like ${name}`);
  }
  script = script.replace(/[\w$]+/g, (word) => names.get(word) ?? word);
  writeFileSync(wasmPath, Buffer.concat(parts));
  writeFileSync(scriptPath, script);
  return true;
};
