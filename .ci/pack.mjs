// After trunk's build: preloads for the hashed names, then the service worker's
// file list and build id. The build id is a digest of every file, so two builds
// of the same files are one build.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";

const dist = process.env.TRUNK_STAGING_DIR ?? "dist";
const files = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? files(join(folder, entry.name)) : [join(folder, entry.name)]);
const names = () => files(dist).map((path) => relative(dist, path)).sort();

const script = names().find((name) => /^hearthjar-\w+\.js$/.test(name));
const wasm = names().find((name) => /^hearthjar-\w+_bg\.wasm$/.test(name));
if (!script || !wasm) throw new Error("no hashed script or wasm in the build");

const index = join(dist, "index.html");
const page = readFileSync(index, "utf8").replace(
  '<script type="module" src="boot.js">',
  `<link rel="modulepreload" href="${script}">` +
    `<link rel="preload" as="fetch" type="application/wasm" crossorigin href="${wasm}">` +
    '<script type="module" src="boot.js">');
if (/<script(?![^>]*\ssrc=)/.test(page)) throw new Error("the page has an inline script");
writeFileSync(index, page);

const list = names().filter((name) => name !== "sw.js");
const digest = createHash("sha256");
for (const name of list) digest.update(name).update("\0").update(readFileSync(join(dist, name)));
const template = readFileSync(join(dist, "sw.js"), "utf8");
digest.update(template);
const build = digest.digest("hex").slice(0, 16);
writeFileSync(join(dist, "sw.js"), template
  .replace('"__BUILD__"', JSON.stringify(build))
  .replace('["__FILES__"]', JSON.stringify(["./", ...list])));
