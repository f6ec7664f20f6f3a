// The built app after one opening with a connection: it opens without one, from a
// reload and from a killed browser, and asks nobody but its own host for anything.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { buildOf, dist, servedBy } from "./harness/builds.mjs";

const files = readdirSync(dist, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(dist.length + 1));

test("one opening is enough", async () => {
  const base = "/some/folder/";
  const server = await serve(dist, 0, base);
  const phone = await Phone.open(server.address);
  await phone.kept();
  const build = await buildOf(phone);

  // Every file of the build is on the phone, byte for byte.
  const kept = await phone.run(`
    return (async () => {
      const [name] = await caches.keys();
      const cache = await caches.open(name);
      const out = {};
      for (const request of await cache.keys()) {
        const bytes = new Uint8Array(await (await cache.match(request)).arrayBuffer());
        let text = "";
        for (const byte of bytes) text += String.fromCharCode(byte);
        out[request.url] = btoa(text);
      }
      return out;
    })();`);
  assert.deepEqual(Object.keys(kept).sort(), files.filter((name) => name !== "sw.js")
    .map((name) => server.address + (name === "index.html" ? "" : name)).sort());
  for (const name of files.filter((file) => file !== "sw.js")) {
    const there = kept[server.address + (name === "index.html" ? "" : name)];
    assert.ok(Buffer.from(there, "base64").equals(readFileSync(join(dist, name))), name);
  }

  // Nothing but the app's own files was asked of its host, and nothing of another.
  const own = new Set([base, ...files.map((name) => base + name)]);
  assert.deepEqual(server.asked.filter((path) => !own.has(path)), []);
  const foreign = (await phone.requests())
    .filter((url) => !url.startsWith(server.address) && !/^(data|blob|chrome|about):/.test(url));
  assert.deepEqual(foreign, []);
  assert.deepEqual(await phone.complaints(), []);

  await server.stop();
  for (const again of [() => phone.reload(), () => phone.kill(), () => phone.kill()]) {
    const before = server.asked.length;
    await again();
    assert.equal(await buildOf(phone), build);
    assert.equal(await servedBy(phone), build);
    assert.equal(server.asked.length, before);
  }
  // The wasm comes out as what a browser compiles while it reads.
  assert.equal(await phone.run(`return fetch(document.querySelector('link[as=fetch]').href)
    .then((got) => got.headers.get("content-type"));`), "application/wasm");
  await phone.close();
});

test("the policy forbids what it should, on the page as built", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  const broken = await phone.driver.executeAsyncScript(`
    const done = arguments[0];
    const found = new Set();
    document.addEventListener("securitypolicyviolation", (event) => found.add(event.effectiveDirective));
    const add = (tag, set) => document.body.append(Object.assign(document.createElement(tag), set));
    add("script", { textContent: "window.broke = true" });
    add("style", { textContent: "body { color: red }" });
    add("img", { src: "http://localhost:9/away.png" });
    add("iframe", { src: "http://localhost:9/" });
    add("p", {}); document.body.lastChild.setAttribute("style", "color: red");
    setTimeout(() => { try { new Function("return 1")(); } catch { found.add("eval"); } });
    fetch("http://localhost:9/").catch(() => {});
    // Some are told of a moment later; what never comes is missed after five seconds.
    const end = Date.now() + 5_000;
    const look = () => found.size >= 8 || Date.now() > end
      ? done({ found: [...found].sort(), broke: window.broke === true }) : setTimeout(look, 50);
    look();`);
  assert.equal(broken.broke, false);
  assert.deepEqual(broken.found,
    ["connect-src", "eval", "frame-src", "img-src", "script-src", "script-src-elem", "style-src-attr", "style-src-elem"]);
  await phone.close();
  await server.stop();
});
