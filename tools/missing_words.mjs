// Lists the messages that a language lacks, and those that English no longer has; for use after English messages were added.
// Usage: node tools/missing_words.mjs [LANGUAGE...]   Ends with 1 when a language lacks any.
import { readFileSync, readdirSync } from 'node:fs';

const folders = ['i18n', 'web/src/words'];
const at = (path) => new URL(`../${path}`, import.meta.url);
const read = (path) => JSON.parse(readFileSync(at(path), 'utf8'));
const codes = readdirSync(at('i18n')).map((name) => name.replace(/\.json$/, '')).filter((code) => code !== 'en');
const wanted = process.argv.length > 2 ? process.argv.slice(2) : codes;
let lacking = 0;
for (const code of wanted)
  for (const folder of folders) {
    const english = read(`${folder}/en.json`);
    const own = read(`${folder}/${code}.json`);
    for (const [id, text] of Object.entries(english)) {
      if (id in own) continue;
      lacking += 1;
      console.log(`${folder}/${code}.json lacks ${id}: ${text}`);
    }
    for (const id of Object.keys(own)) if (!(id in english)) console.log(`${folder}/${code}.json has ${id}, which English has not`);
  }
console.log(`${lacking} messages lacking in ${wanted.join(', ')}`);
process.exit(lacking === 0 ? 0 : 1);
