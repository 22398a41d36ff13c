// How long a fresh phone takes to hold a ward's record: the page in a real browser joins a server that has 10 000 entries
// in 100 cases, and is waited for until its own database has them all.
// Usage: node bench/sync.mjs [RUNS]      wants web/dist, a chromium, and STANCH or build/release/bin/stanch
import { Ward, openBrowser, openPhone } from '../web/tests/browser/ward.mjs';

const wanted = 10_000;
const cases = 100;
const runs = Number(process.argv[2] ?? 3);
const hex = (number, digits) => number.toString(16).padStart(digits, '0');
const id = (kind, number) => `01890000-0000-7000-8${kind}00-${hex(number, 12)}`;
const start = Date.now() - 4 * 3_600_000;
const time = (number) => new Date(start + Math.floor(number / cases) * 120_000).toISOString();

function entry(number) {
  const frame = { id: id(0, number), case: id(1, number % cases), at: time(number), written: time(number), by: 'Midwife Arlo', from: 'phone-1' };
  if (number < cases) return { ...frame, kind: 'opened', label: `Bed ${number + 1}`, birth_at: time(0), birth_mode: 'vaginal' };
  return number % 4 === 0 ?
      { ...frame, kind: 'loss', method: 'drape', level_ml: 100 + (number % 40) * 10 }
    : { ...frame, kind: 'vitals', pulse: 80 + (number % 50), sbp: 90 + (number % 40), dbp: 60 };
}

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const browser = await openBrowser();
const took = [];
for (let run = 0; run < runs; run += 1) {
  const ward = await Ward.open();
  const { token } = await (await fetch(`${ward.address}api/enrol`, { method: 'POST', body: JSON.stringify({ code: ward.code, device: 'bench' }) })).json();
  for (let from = 0; from < wanted; from += 2000) {
    const body = Array.from({ length: 2000 }, (_, i) => JSON.stringify(entry(from + i))).join('\n');
    const answer = await fetch(`${ward.address}api/entries`, { method: 'POST', body, headers: { Authorization: `Bearer ${token}` } });
    const { accepted, refused } = await answer.json();
    if (accepted.length !== 2000) throw new Error(`the server refused entries: ${JSON.stringify(refused[0])}`);
  }
  const began = Date.now();
  const { context, page } = await openPhone(browser, ward);
  page.setDefaultTimeout(60_000);
  await page.waitForFunction(
    (count) =>
      new Promise((resolve) => {
        const open = indexedDB.open('stanch');
        open.onerror = () => resolve(false);
        open.onsuccess = () => {
          if (!open.result.objectStoreNames.contains('entries')) return resolve(open.result.close() ?? false);
          const all = open.result.transaction('entries').objectStore('entries').count();
          all.onsuccess = () => resolve(open.result.close() ?? all.result >= count);
        };
      }),
    wanted,
    { polling: 50 },
  );
  took.push(Date.now() - began);
  await context.close();
  await ward.close();
}
console.log(`${wanted} entries to a fresh phone, from opening the page: median ${median(took)} ms of ${took.join(', ')} (aim: 3000)`);
await browser.close();
