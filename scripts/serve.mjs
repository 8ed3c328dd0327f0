// Serves a folder of plain files on loopback, and nothing else: what any static
// host would do with web/dist. Also used by the browser tests, which serve the
// page below a sub-path to show that it doesn't depend on being at the root.
//
//   node scripts/serve.mjs [--root DIR] [--port N] [--next] [--base /some/path/]
//
// --next: a port that is taken is no error; the next free one is used.
import { createReadStream, realpathSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const HOST = '127.0.0.1';
const DIST = fileURLToPath(new URL('../web/dist', import.meta.url));
const TYPES = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.pdf': 'application/pdf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.woff2': 'font/woff2',
};

/** The file that answers a path, null when none does. */
async function find(root, path) {
  const file = resolve(join(root, path));
  if (file !== root && !file.startsWith(root + sep)) return null;
  try {
    const found = await stat(file);
    if (found.isFile()) return { file, size: found.size };
    if (!path.endsWith('/')) return { redirect: true };
    const index = join(file, 'index.html');
    return { file: index, size: (await stat(index)).size };
  } catch {
    return null;
  }
}

async function answer(root, base, request, response) {
  const refuse = (status, text) => {
    response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' });
    response.end(`${text}\n`);
  };
  if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(405, 'only GET and HEAD');
  let path;
  try {
    path = decodeURIComponent(request.url.replace(/[?#].*$/s, ''));
  } catch {
    return refuse(400, 'not a path');
  }
  if (path.includes('\0')) return refuse(400, 'not a path');
  const moved = (location) => response.writeHead(301, { location: encodeURI(location) }).end();
  if (`${path}/` === base) return moved(base);
  if (!path.startsWith(base)) return refuse(404, `not here; the page is at ${base}`);
  const found = await find(root, path.slice(base.length - 1));
  if (found === null) return refuse(404, 'no such file');
  if (found.redirect) return moved(`${path.replace(/^\/+/, '/')}/`);
  response.writeHead(200, {
    'cache-control': 'no-cache',
    'content-length': found.size,
    'content-type': TYPES[extname(found.file)] ?? 'application/octet-stream',
    'x-content-type-options': 'nosniff',
  });
  if (request.method === 'HEAD') return response.end();
  const stream = createReadStream(found.file);
  stream.on('error', () => response.destroy());
  return stream.pipe(response);
}

/**
 * Serves `root` below `base`; port 0 takes any free one. With `next`, a taken
 * port leads to the one after it. Resolves to the address, the port and `close`.
 */
export async function serve({ root = DIST, port = 0, base = '/', next = false } = {}) {
  const folder = resolve(root);
  const prefix = `/${base}/`.replace(/\/{2,}/g, '/');
  const server = createServer((request, response) => {
    answer(folder, prefix, request, response).catch(() => response.destroy());
  });
  for (let tried = port; ; tried += 1) {
    try {
      await new Promise((done, failed) => {
        server.once('error', failed);
        server.listen(tried, HOST, () => {
          server.off('error', failed);
          done();
        });
      });
      break;
    } catch (error) {
      server.removeAllListeners('error');
      if (error.code !== 'EADDRINUSE' || !next || tried >= Math.min(port + 100, 65535)) throw error;
    }
  }
  const taken = server.address().port;
  return {
    port: taken,
    url: `http://${HOST}:${taken}${prefix}`,
    close: () =>
      new Promise((done) => {
        server.close(done);
        server.closeAllConnections();
      }),
  };
}

if (realpathSync(process.argv[1] ?? '.') === fileURLToPath(import.meta.url)) {
  const { values } = parseArgs({
    options: {
      root: { type: 'string', default: DIST },
      port: { type: 'string', default: '4870' },
      base: { type: 'string', default: '/' },
      next: { type: 'boolean', default: false },
    },
  });
  const port = Number(values.port);
  try {
    const server = await serve({ ...values, port });
    if (port !== 0 && server.port !== port) console.log(`· port ${port} is taken, so another one is used`);
    console.log(`Faultpath is at ${server.url} (Ctrl-C stops it)`);
    for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(0));
  } catch (error) {
    console.error(`error: cannot serve on port ${values.port}: ${error.message}`);
    process.exitCode = 1;
  }
}
