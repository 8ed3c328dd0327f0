// A plain static server on loopback, under a sub-path, as a static host would serve the built page.
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";

const types = {
  ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".json": "application/json", ".svg": "image/svg+xml", ".png": "image/png",
  ".wasm": "application/wasm", ".webmanifest": "application/manifest+json",
};
export const dist = process.env.DIST ?? fileURLToPath(new URL("../dist", import.meta.url));

const press = { gzip: (plain) => gzipSync(plain, { level: 9 }), br: (plain) => brotliCompressSync(plain) };

/** `pressed`: sent compressed in that way, as hosts do; `sent` then tells how much that was. */
export async function serve(folder = dist, under = "/tools/faultpath/", pressed = null) {
  const asked = [];
  const sent = [];
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, "http://x").pathname);
    asked.push(path);
    const file = path.startsWith(under) ? normalize(join(folder, path.slice(under.length) || "index.html")) : "";
    try {
      if (!file.startsWith(folder)) throw new Error("outside");
      const plain = await readFile(file);
      const body = pressed !== null && extname(file) !== ".png" ? press[pressed](plain) : plain;
      sent.push({ path, bytes: body.length });
      response.writeHead(200, {
        "content-type": types[extname(file)] ?? "application/octet-stream", "cache-control": "no-cache", "content-length": body.length,
        ...(body === plain ? {} : { "content-encoding": pressed }),
      });
      response.end(body);
    } catch {
      response.writeHead(404).end("not here");
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address();
  return {
    url: `http://127.0.0.1:${port}${under}`,
    origin: `http://127.0.0.1:${port}`,
    asked,
    sent,
    stop: () => new Promise((done) => {
      server.closeAllConnections();
      server.close(done);
    }),
  };
}
