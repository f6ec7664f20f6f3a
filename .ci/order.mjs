// Puts functions that are alike beside each other, where a packer sees it best: a
// hundredth of the wasm as it is sent. Invariant: only the order changes, and the same
// functions always come in the same order.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { leb, reader, sections, text } from "./binary.mjs";

/// Bytes in a row by which functions are compared; 4 to 6 do about as well.
const RUN = 5;
/// What wasm-opt may write: no more than index.html lets it.
const FEATURES = ["bulk-memory", "nontrapping-float-to-int", "sign-ext", "mutable-globals", "reference-types", "multivalue"]
  .map((name) => `--enable-${name}`);

/// The runs of a function's code, as numbers.
const runs = (code) => {
  const found = new Set();
  for (let at = 0; at + RUN <= code.length; at += 1) {
    let hash = 0;
    for (let step = 0; step < RUN; step += 1) hash = (Math.imul(hash, 0x01000193) ^ code[at + step]) >>> 0;
    found.add(hash);
  }
  return found;
};

/// An order in which each function is followed by the one of the rest most like it.
const alike = (codes) => {
  const sets = codes.map(runs);
  const having = new Map();
  sets.forEach((set, index) => {
    for (const run of set) {
      if (having.has(run)) having.get(run).push(index);
      else having.set(run, [index]);
    }
  });
  const left = new Set(codes.keys());
  const order = [];
  for (let now = 0; ; ) {
    order.push(now);
    left.delete(now);
    if (left.size === 0) return order;
    const shared = new Map();
    for (const run of sets[now]) {
      for (const other of having.get(run)) {
        if (left.has(other)) shared.set(other, (shared.get(other) ?? 0) + 1);
      }
    }
    let best = -1;
    let next = left.values().next().value;
    for (const other of left) {
      const like = (shared.get(other) ?? 0) / (sets[now].size + sets[other].size + 1);
      if (like > best) [best, next] = [like, other];
    }
    now = next;
  }
};

/// The code of each function; how many are imported.
const functions = (wasm) => {
  let imported = 0;
  let codes = [];
  for (const { id, content } of sections(wasm)) {
    const read = reader(content);
    if (id === 2) {
      for (let left = read.number(); left > 0; left -= 1) {
        read.name();
        read.name();
        if (read.described()[0] === 0) imported += 1;
      }
    }
    if (id === 10) codes = Array.from({ length: read.number() }, () => read.take(read.number()));
  }
  return { imported, codes };
};

/// Reorders the functions of a file.
export const order = (path) => {
  const wasm = readFileSync(path);
  const { imported, codes } = functions(wasm);
  const names = [];
  alike(codes).forEach((index, place) => { names[index] = String(place).padStart(6, "0"); });
  const named = Buffer.concat(names.flatMap((name, index) => [leb(imported + index), text(name)]));
  const table = Buffer.concat([leb(names.length), named]);
  const content = Buffer.concat([text("name"), leb(1), leb(table.length), table]);
  writeFileSync(path, Buffer.concat([wasm, leb(0), leb(content.length), content]));
  execFileSync("wasm-opt", [path, "--reorder-functions-by-name", ...FEATURES, "-o", path]);
};
