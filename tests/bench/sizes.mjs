// Bytes of code: raw, and as a host that compresses with brotli sends them.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

const size = (path) => {
  const raw = readFileSync(path);
  const best = { params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: raw.length } };
  return { raw: raw.length, brotli: brotliCompressSync(raw, best).length };
};
const only = (folder, pattern) => {
  const found = readdirSync(folder).filter((name) => pattern.test(name));
  if (found.length !== 1) throw new Error(`${folder}: ${found.length} files like ${pattern}`);
  return size(join(folder, found[0]));
};

export const sizes = (app, counter, vanilla) => ({
  "stove's wasm": only(app, /^hearthjar-[0-9a-f]+_bg\.wasm$/),
  "stove's script": only(app, /^hearthjar-[0-9a-f]+\.js$/),
  "desk's wasm": only(app, /^hearthjar-desk-[0-9a-f]+_bg\.wasm$/),
  "desk's script": only(app, /^hearthjar-desk-[0-9a-f]+\.js$/),
  "start-up script": only(app, /^boot\.js$/),
  "counter's wasm": only(counter, /_bg\.wasm$/),
  "counter's script": only(counter, /\.js$/),
  "vanilla page's script": only(vanilla, /^page\.js$/),
});
