// Finishes a bundle: writes the service worker with the list of files to keep, compresses each file beside itself (brotli,
// which browsers take over https, and gzip), and prints what a first load sends and what each language adds. Usage: node
// tools/finish.mjs DIST
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const dist = process.argv[2];
const list = (folder) =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? list(path) : [path];
  });

// A language's own files, as the bundler tells them: its words, its style, its fonts.
const manifest = JSON.parse(readFileSync(join(dist, '.vite/manifest.json'), 'utf8'));
rmSync(join(dist, '.vite'), { recursive: true });
const languages = {};
for (const [source, { file, css = [], assets = [] }] of Object.entries(manifest)) {
  const code = /^src\/words\/languages\/(\w+)\.ts$/.exec(source)?.[1];
  if (code) languages[code] = [file, ...css, ...assets].sort();
}
const ofLanguages = new Set(Object.values(languages).flat());

const files = list(dist).filter((path) => !/\.(br|gz)$/.test(path) && !path.endsWith('sw.js'));
const names = files.map((path) => relative(dist, path)).sort();
const notKept = (name) => ofLanguages.has(name);
const digest = createHash('sha256');
for (const name of names) digest.update(name).update(readFileSync(join(dist, name)));
const worker = readFileSync(new URL('./sw.js', import.meta.url), 'utf8')
  .replace("'VERSION'", JSON.stringify(digest.digest('hex').slice(0, 16)))
  .replace('[/* FILES */]', JSON.stringify(names.filter((one) => !notKept(one))))
  .replace('{/* LANGUAGES */}', JSON.stringify(languages));
writeFileSync(join(dist, 'sw.js'), worker);

const sizes = new Map(); // bytes on the way, by file
for (const path of [...files, join(dist, 'sw.js')]) {
  const bytes = readFileSync(path);
  const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  const packed = { br: brotliCompressSync(bytes, { params }), gz: gzipSync(bytes, { level: 9 }) };
  const size = { br: bytes.length, gz: bytes.length };
  for (const [kind, small] of Object.entries(packed)) {
    if (small.length < bytes.length) writeFileSync(`${path}.${kind}`, small);
    size[kind] = Math.min(small.length, bytes.length);
  }
  sizes.set(relative(dist, path), size);
}
const sum = (list, kind) => `${(list.reduce((all, one) => all + sizes.get(one)[kind], 0) / 1000).toFixed(0)} kB`;
const first = [...sizes.keys()].filter((one) => !notKept(one));
console.log(`web/dist: ${names.length} files, first load ${sum(first, 'br')} by https (brotli), ${sum(first, 'gz')} by http (gzip)`);
for (const [code, own] of Object.entries(languages)) {
  console.log(`  ${code} adds ${sum(own, 'br')} by https, ${sum(own, 'gz')} by http`);
}
