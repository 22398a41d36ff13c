// Finishes a bundle: writes the service worker with the list of files to keep, compresses each file beside itself (brotli,
// which browsers take over https, and gzip), and prints what a first load sends. Usage: node tools/finish.mjs DIST
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const dist = process.argv[2];
const list = (folder) =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? list(path) : [path];
  });

const files = list(dist).filter((path) => !/\.(br|gz)$/.test(path) && !path.endsWith('sw.js'));
const names = files.map((path) => relative(dist, path)).sort();
const digest = createHash('sha256');
for (const name of names) digest.update(name).update(readFileSync(join(dist, name)));
const worker = readFileSync(new URL('./sw.js', import.meta.url), 'utf8')
  .replace("'VERSION'", JSON.stringify(digest.digest('hex').slice(0, 16)))
  .replace('[/* FILES */]', JSON.stringify(names));
writeFileSync(join(dist, 'sw.js'), worker);

const sent = { br: 0, gz: 0 };
for (const path of [...files, join(dist, 'sw.js')]) {
  const bytes = readFileSync(path);
  const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  const packed = { br: brotliCompressSync(bytes, { params }), gz: gzipSync(bytes, { level: 9 }) };
  for (const [kind, small] of Object.entries(packed)) {
    if (small.length < bytes.length) writeFileSync(`${path}.${kind}`, small);
    sent[kind] += Math.min(small.length, bytes.length);
  }
}
const kB = (bytes) => `${(bytes / 1000).toFixed(0)} kB`;
console.log(`web/dist: ${names.length} files, first load ${kB(sent.br)} by https (brotli), ${kB(sent.gz)} by http (gzip)`);
