// Finishes a bundle: writes the service worker with the list of files to keep, compresses each file beside itself, and
// prints what a first load sends. Usage: node tools/finish.mjs DIST
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { gzipSync } from 'node:zlib';

const dist = process.argv[2];
const list = (folder) =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? list(path) : [path];
  });

const files = list(dist).filter((path) => !path.endsWith('.gz') && !path.endsWith('sw.js'));
const names = files.map((path) => relative(dist, path)).sort();
const digest = createHash('sha256');
for (const name of names) digest.update(name).update(readFileSync(join(dist, name)));
const worker = readFileSync(new URL('./sw.js', import.meta.url), 'utf8')
  .replace("'VERSION'", JSON.stringify(digest.digest('hex').slice(0, 16)))
  .replace('[/* FILES */]', JSON.stringify(names));
writeFileSync(join(dist, 'sw.js'), worker);

let sent = 0;
for (const path of [...files, join(dist, 'sw.js')]) {
  const packed = gzipSync(readFileSync(path), { level: 9 });
  writeFileSync(`${path}.gz`, packed);
  sent += packed.length;
}
console.log(`web/dist: ${names.length} files, first load ${(sent / 1000).toFixed(0)} kB compressed`);
