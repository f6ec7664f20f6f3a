// Shortens the names by which a half's wasm and its script know each other: long, full
// of hashes, fetched twice and told to nobody. Invariant: each name stays one name in
// both files, and a pair that is short already is left as it is.
import { readFileSync, writeFileSync } from "node:fs";

const IMPORTS = 2;
const EXPORTS = 7;
const LONG = /^(?:__wb|__externref_|wasm_bindgen_)\w+$/;

/// Reads from `bytes` in the terms of the binary format (webassembly.github.io/spec, chapter 5).
const reader = (bytes) => {
  let at = 0;
  const number = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = bytes[at++];
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  };
  const take = (length) => bytes.subarray(at, (at += length));
  return { number, take, name: () => take(number()).toString(), here: () => at, more: () => at < bytes.length };
};

const leb = (value) => {
  const bytes = [];
  for (; value > 127; value = Math.floor(value / 128)) bytes.push((value % 128) + 128);
  return Buffer.from([...bytes, value]);
};
const text = (name) => Buffer.concat([leb(Buffer.byteLength(name)), Buffer.from(name)]);

/// What follows an import's names, to its end.
const described = (read, bytes) => {
  const from = read.here();
  const limits = () => { if (read.number() & 1) read.number(); read.number(); };
  const kind = read.number();
  if (kind === 0) read.number();
  else if (kind === 1) { read.number(); limits(); }
  else if (kind === 2) limits();
  else if (kind === 3) read.take(2);
  else throw new Error(`an import of kind ${kind}`);
  return bytes.subarray(from, read.here());
};

/// A section's content with other names.
const renamed = (id, bytes, short) => {
  const read = reader(bytes);
  const count = read.number();
  const parts = [leb(count)];
  for (let each = 0; each < count; each += 1) {
    if (id === IMPORTS) parts.push(text(read.name()), text(short(read.name())), described(read, bytes));
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
  const read = reader(wasm);
  const parts = [read.take(8)];
  while (read.more()) {
    const id = read.number();
    const bytes = read.take(read.number());
    const content = id === IMPORTS || id === EXPORTS ? renamed(id, bytes, short) : bytes;
    parts.push(leb(id), leb(content.length), content);
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
