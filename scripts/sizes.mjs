// Prints what the page costs to load: the wasm file, and everything in web/dist.
import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';

const web = fileURLToPath(new URL('../web', import.meta.url));
const line = (name, files) => {
  const sum = (size) => files.reduce((bytes, file) => bytes + size(file), 0).toLocaleString('en-GB');
  console.log(
    `${name}: ${sum((file) => file.length)} bytes, gzip ${sum((file) => gzipSync(file, { level: 9 }).length)}, brotli ${sum((file) => brotliCompressSync(file).length)}`,
  );
};

for (const pkg of ['pkg', 'pkg-site']) line(`${pkg}/faultpath_wasm_bg.wasm`, [readFileSync(join(web, 'src', pkg, 'faultpath_wasm_bg.wasm'))]);
const dist = readdirSync(join(web, 'dist'), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && extname(entry.name) !== '.map')
  .map((entry) => readFileSync(join(entry.parentPath, entry.name)));
line(`web/dist, ${dist.length} files`, dist);
