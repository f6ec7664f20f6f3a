// A static file server for trying and testing the built app: `node .ci/serve.mjs dist 8080`.
// Takes the next free port, says the address, and can be used by the tests as a module.
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { networkInterfaces } from "node:os";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";

const TYPES = {
  ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".mjs": "text/javascript",
  ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".png": "image/png",
  ".webmanifest": "application/manifest+json", ".json": "application/json",
};

/// Serves `root` below `/sub/`, so that every test also proves the sub-path.
export const serve = (root, port = 0, base = "/") => new Promise((resolve, reject) => {
  const asked = [];
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, "http://x").pathname);
    asked.push(path);
    const name = path.startsWith(base) ? normalize(path.slice(base.length)) || "index.html" : null;
    const file = name === "." ? "index.html" : name;
    try {
      if (file === null || file.startsWith("..")) throw new Error("outside");
      const body = await readFile(join(root, file));
      response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "application/octet-stream", "cache-control": "no-cache" });
      response.end(body);
    } catch {
      response.writeHead(404).end("not here");
    }
  });
  server.on("error", reject);
  server.listen(port, () => resolve({
    address: `http://localhost:${server.address().port}${base}`,
    port: server.address().port,
    asked,
    stop: () => new Promise((done) => { server.closeAllConnections(); server.close(done); }),
  }));
});

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [root = "dist", first = "8080"] = process.argv.slice(2);
  let served;
  for (let port = Number(first); !served; port += 1) {
    served = await serve(root, port).catch((error) => {
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
