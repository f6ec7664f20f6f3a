// A static file server for trying and testing the built app: `node .ci/serve.mjs dist 8080`.
// Takes the next free port, says the address, and can be used by the tests as a module.
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { networkInterfaces } from "node:os";
import { brotliCompressSync } from "node:zlib";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";

const TYPES = {
  ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".mjs": "text/javascript",
  ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".png": "image/png",
  ".webmanifest": "application/manifest+json", ".json": "application/json",
  ".txt": "text/plain; charset=utf-8",
};

/// The file of `root` that an address below `base` stands for; null if there is none.
const named = (root, base, url) => {
  try {
    const path = decodeURIComponent(new URL(url, "http://x").pathname);
    if (!path.startsWith(base)) return null;
    const name = normalize(path.slice(base.length) || ".");
    return name.startsWith("..") ? null : join(root, name === "." ? "index.html" : name);
  } catch {
    return null;
  }
};

/// Serves `root` below `base`. `asked` fills with every address asked for; an address
/// put in `broken` is answered with its number and nothing else.
/// After `stop`, `start` opens the same port again.
/// A server that only a failed test has left open does not keep node running.
/// With `compress` it sends brotli, as a host does; each file is compressed once.
export const serve = (root, port = 0, base = "/", stay = false, compress = false) => {
  const asked = [];
  const small = new Map();
  const broken = new Map();
  const server = createServer(async (request, response) => {
    asked.push(request.url);
    const status = broken.get(request.url);
    if (status) return response.writeHead(status, { "content-type": TYPES[extname(request.url)] ?? "text/plain" }).end();
    if (!["GET", "HEAD"].includes(request.method)) return response.writeHead(405).end();
    const file = named(root, base, request.url);
    try {
      const body = await readFile(file);
      const type = TYPES[extname(file)] ?? "application/octet-stream";
      const head = { "content-type": type, "cache-control": "no-cache" };
      if (compress && type !== "image/png" && /\bbr\b/.test(request.headers["accept-encoding"] ?? "")) {
        if (!small.has(file)) small.set(file, brotliCompressSync(body));
        response.writeHead(200, { ...head, "content-encoding": "br" });
        return response.end(small.get(file));
      }
      response.writeHead(200, head);
      response.end(body);
    } catch {
      response.writeHead(404).end("not here");
    }
  });
  if (!stay) server.unref();
  const listen = (at) => new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(at, () => {
      server.off("error", reject);
      resolve(server.address().port);
    });
  });
  return listen(port).then((taken) => ({
    address: `http://localhost:${taken}${base}`,
    port: taken,
    asked,
    broken,
    start: () => listen(taken),
    stop: () => new Promise((done) => { server.close(done); server.closeAllConnections(); }),
  }));
};

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [root = "dist", first = "8080", how] = process.argv.slice(2);
  let served;
  for (let port = Number(first); !served; port += 1) {
    served = await serve(root, port, "/", true, how === "--compress").catch((error) => {
      if (error.code !== "EADDRINUSE") throw error;
    });
  }
  console.log(`Hearthjar is at ${served.address}`);
  for (const { address, family, internal } of Object.values(networkInterfaces()).flat()) {
    if (family === "IPv4" && !internal) {
      console.log(`  also at http://${address}:${served.port}/ (installing and working offline need https or localhost)`);
    }
  }
  console.log("Press Ctrl+C to stop.");
}
