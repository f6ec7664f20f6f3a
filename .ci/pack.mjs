// Seals a build: run by trunk after its own work, and by the tests to make further
// builds. Writes the preloads for the hashed names into the page, names the build
// after its content, and gives the service worker the digest of every file.
// Sealing a sealed folder again is allowed and, with the same files, changes nothing.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { order } from "./order.mjs";
import { shorten } from "./short.mjs";
import { words } from "./words.mjs";

const TEMPLATE = new URL("../public/sw.js", import.meta.url);
const PRELOADS = /<link rel="modulepreload"[^>]*><link rel="preload"[^>]*>/;
// Trunk leaves its own order in the page when it writes no start-up script.
const ORDER = /\s*<link data-trunk [^>]*>/g;
const START = '<script type="module" async src="boot.js">';
const STYLE = /<link rel="stylesheet" href="([^"]+)"\s*\/?>\s*/g;

const files = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? files(join(folder, entry.name)) : [join(folder, entry.name)]);

const only = (names, pattern) => {
  const found = names.filter((name) => pattern.test(name));
  if (found.length !== 1) throw new Error(`${found.length} files are named like ${pattern}, not one`);
  return found[0];
};

/// What the page's own policy would block, or what would break under a sub-path.
const faults = (page) => [
  [/<script(?![^>]*\ssrc=)/, "an inline script"],
  [/<style|\sstyle=/, "an inline style"],
  [/\s(?:src|href)="(?:\/|\w+:)/, "an address that is not relative"],
  [/\son\w+=/, "an inline handler"],
].filter(([pattern]) => pattern.test(page)).map(([, what]) => what);

/// Makes the names between a half's two files short, and names the files after what they
/// then hold: trunk names the stove's after what they held before, the desk's after nothing.
const nameHalf = (dist, half, fresh) => {
  const name = readdirSync(dist).map((file) => fresh.exec(file)?.[1]).find(Boolean);
  if (!name) return;
  const [script, wasm] = [`${name}.js`, `${name}_bg.wasm`].map((file) => join(dist, file));
  // Those of a sealed folder are short and named.
  if (!shorten(wasm, script)) return;
  if (process.env.TRUNK_PROFILE === "release") order(wasm);
  const digest = createHash("sha256").update(readFileSync(script)).update(readFileSync(wasm)).digest("hex").slice(0, 16);
  renameSync(script, join(dist, `${half}-${digest}.js`));
  renameSync(wasm, join(dist, `${half}-${digest}_bg.wasm`));
};

/// Writes the texts of the page, named after what they say; returns their mark. Those
/// of a sealed folder stay: its code knows no others.
const writeTexts = (dist) => {
  const there = readdirSync(dist).map((name) => /^texts-([0-9a-f]+)-en\.txt$/.exec(name)?.[1]).find(Boolean);
  if (there) return there;
  const texts = Object.entries(words());
  const digest = createHash("sha256");
  for (const [, text] of texts) digest.update(text);
  const mark = digest.digest("hex").slice(0, 16);
  for (const [name, text] of texts) writeFileSync(join(dist, `texts-${mark}-${name}.txt`), text);
  return mark;
};

/// Makes the style's files one: each is a request that the first picture waits for.
const joinStyle = (dist) => {
  const index = join(dist, "index.html");
  const page = readFileSync(index, "utf8");
  const parts = [...page.matchAll(STYLE)].map(([, name]) => join(dist, name));
  if (parts.length < 2) return;
  const style = parts.map((path) => readFileSync(path, "utf8")).join("");
  const name = `style-${createHash("sha256").update(style).digest("hex").slice(0, 16)}.css`;
  writeFileSync(join(dist, name), style);
  for (const path of parts) rmSync(path);
  let first = true;
  writeFileSync(index, page.replace(STYLE, () => {
    const link = first ? `<link rel="stylesheet" href="${name}">` : "";
    first = false;
    return link;
  }));
};

/// Seals the build in `dist`; returns the build's name.
export const pack = (dist) => {
  nameHalf(dist, "hearthjar", /^(hearthjar-[0-9a-f]+)\.js$/);
  nameHalf(dist, "hearthjar-desk", /^(hearthjar-desk)\.js$/);
  joinStyle(dist);
  const texts = writeTexts(dist);
  const names = files(dist).map((path) => relative(dist, path).split(sep).join("/"))
    .filter((name) => name !== "sw.js").sort();
  const script = only(names, /^hearthjar-[0-9a-f]+\.js$/);
  const wasm = only(names, /^hearthjar-[0-9a-f]+_bg\.wasm$/);
  const desk = names.filter((name) => /^hearthjar-desk-[0-9a-f]+(_bg\.wasm|\.js)$/.test(name))
    .sort((a, b) => Number(a.endsWith(".wasm")) - Number(b.endsWith(".wasm")));

  const index = join(dist, "index.html");
  const named = (page, build) => page.replace(/<meta name="build" content="[^"]*"/, `<meta name="build" content="${build}"`);
  const bare = named(readFileSync(index, "utf8").replace(PRELOADS, "").replace(ORDER, ""), "");
  if (!bare.includes(START) || !bare.includes('<meta name="build"')) {
    throw new Error("the page does not start boot.js or has no place for the build's name");
  }
  const page = bare.replace(/<meta name="desk" content="[^"]*"/, `<meta name="desk" content="${desk.join(" ")}"`)
    .replace(/<meta name="texts" content="[^"]*"/, `<meta name="texts" content="texts-${texts}-"`).replace(START,
    `<link rel="modulepreload" href="${script}">` +
    `<link rel="preload" as="fetch" type="application/wasm" crossorigin href="${wasm}">${START}`);
  const wrong = faults(page);
  if (wrong.length > 0) throw new Error(`the page has ${wrong.join(", ")}`);
  writeFileSync(index, page);

  // The same files always make the same build, and one changed byte another.
  const read = (name) => readFileSync(join(dist, name));
  const template = readFileSync(TEMPLATE, "utf8");
  const digest = createHash("sha256").update(template);
  for (const name of names) digest.update(`\0${name}\0`).update(read(name));
  const build = digest.digest("hex").slice(0, 16);
  writeFileSync(index, named(page, build));

  // The page is fetched as the folder: some hosts send index.html elsewhere.
  const list = Object.fromEntries(names.map((name) => [
    name === "index.html" ? "./" : name,
    `sha256-${createHash("sha256").update(read(name)).digest("base64")}`,
  ]));
  const worker = template.replace('"__BUILD__"', JSON.stringify(build))
    .replace('{ "__FILES__": "" }', JSON.stringify(list, null, 1));
  if (worker.includes("__FILES__\"")) throw new Error("the worker's template has no place for the files");
  writeFileSync(join(dist, "sw.js"), worker);
  return build;
};

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.log(`build ${pack(process.env.TRUNK_STAGING_DIR ?? "dist")}`);
}
