// How long from a tap to the next painted frame on a slow phone: the page at 360x640 with the processor slowed 6 times,
// a case of the demo's longest kind in its store, every kind of tap in turn. Prints medians and 95th percentiles.
// Usage: node bench/page.mjs [CASE.ndjson]      wants web/dist and a chromium; CHROMIUM names another browser
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { startFront } from '../web/tests/browser/front.mjs';
import { dist, openBrowser, phone } from '../web/tests/browser/ward.mjs';

const slowed = 6;
const rounds = 12;
const file = process.argv[2] ?? fileURLToPath(new URL('../demo/relapse-unwrapping.ndjson', import.meta.url));
const told = readFileSync(file, 'utf8').trim().split('\n').map((line) => JSON.parse(line));
const end = Math.max(...told.map((entry) => Date.parse(entry.at)));
const shift = Date.now() - end - 60_000;
const moved = told.map((entry) => ({
  ...entry,
  at: new Date(Date.parse(entry.at) + shift).toISOString(),
  written: new Date(Date.parse(entry.written) + shift).toISOString(),
  ...(entry.birth_at ? { birth_at: new Date(Date.parse(entry.birth_at) + shift).toISOString() } : {}),
}));

const front = await startFront(dist, () => 9); // no server behind it: port 9 discards
const browser = await openBrowser();
const context = await browser.newContext({ viewport: phone, hasTouch: true, serviceWorkers: 'block' });
const page = await context.newPage();
await page.goto(`http://127.0.0.1:${front.port}/`);
await page.getByRole('button', { name: '+ Bleeding now' }).waitFor();
await page.evaluate(
  (entries) =>
    new Promise((resolve) => {
      const open = indexedDB.open('stanch');
      open.onsuccess = () => {
        const tx = open.result.transaction('entries', 'readwrite');
        for (const entry of entries) tx.objectStore('entries').put(entry);
        tx.oncomplete = () => resolve(open.result.close());
      };
    }),
  moved,
);
const session = await context.newCDPSession(page);
await session.send('Emulation.setCPUThrottlingRate', { rate: slowed });
const opened = Date.now();
await page.goto(`http://127.0.0.1:${front.port}/#/case/${moved[0].case}`);
await page.reload();
await page.getByRole('button', { name: 'Vitals', exact: true }).waitFor();
await page.locator('.state b').filter({ hasText: /\w/ }).waitFor();
const usable = Date.now() - opened;

// The browser's own clock (Event Timing): from the touch's time stamp to the frame that shows its answer, in steps of 8 ms.
// A script's own clock would be slowed as much as what it measures. Events under 16 ms are not told: then 16 stands.
const least = 16;
const listen = (watched) =>
  watched.evaluate((durationThreshold) => {
    globalThis.interactions = new Map();
    new PerformanceObserver((list) => {
      for (const one of list.getEntries()) {
        if (one.interactionId === 0) continue;
        const known = globalThis.interactions.get(one.interactionId);
        if (known && known.toPaint >= one.duration) continue;
        globalThis.interactions.set(one.interactionId, { toPaint: one.duration, scripts: one.processingEnd - one.processingStart });
      }
    }).observe({ type: 'event', durationThreshold });
  }, least);

/** What one tap took; every event of a tap has the tap's id, and the longest of them counts. */
async function timed(watched, key) {
  await watched.waitForTimeout(300);
  const before = await watched.evaluate(() => globalThis.interactions.size);
  await key.tap();
  await watched.waitForTimeout(350); // the longest of a tap's events comes after its own frame
  const told = await watched.evaluate((count) => [...globalThis.interactions.values()].slice(count), before);
  return told.length > 0 ? told.reduce((a, b) => (a.toPaint > b.toPaint ? a : b)) : { toPaint: least, scripts: 0 };
}

await listen(page);
await page.evaluate(() => {
  globalThis.saves = [];
  let saving;
  // A pad closes when its entry is durable.
  new MutationObserver(() => {
    if (saving === undefined || document.querySelector('.sheet')) return;
    globalThis.saves.push(performance.now() - saving);
    saving = undefined;
  }).observe(document.body, { childList: true, subtree: true });
  document.addEventListener('click', (event) => event.target.closest?.('.pad-save .act') && (saving = event.timeStamp), true);
});

const figures = {};
async function tap(kind, key) {
  (figures[kind] ??= []).push(await timed(page, key));
}
const key = (name) => page.getByRole('button', { name, exact: typeof name === 'string' }).first();

for (let i = 0; i < rounds; i += 1) {
  await tap('open a pad', key('Vitals'));
  for (const digit of '98') await tap('digit', key(digit));
  for (const digit of '112') await tap('digit', key(digit));
  await tap('save', key(/^Save/));
  await page.locator('.sheet').waitFor({ state: 'detached' });
  await tap('open a pad', key('Did'));
  await tap('record by one tap', key('Firm'));
  await tap('close a pad', key(/Back$/));
  await tap('open a way', key('Wrap'));
  await tap('close a pad', key(/Back$/));
}

// What the machine itself takes for the least a page can do, slowed as much: it tells a busy machine from a slow page.
const bare = await context.newPage();
await bare.setContent('<meta name="viewport" content="width=device-width"><button style="touch-action: manipulation">0</button>');
await (await context.newCDPSession(bare)).send('Emulation.setCPUThrottlingRate', { rate: slowed });
await bare.evaluate(() => document.addEventListener('click', (event) => (event.target.textContent += '1')));
await listen(bare);
const floor = [];
for (let i = 0; i < 4 * rounds; i += 1) floor.push(await timed(bare, bare.locator('button')));

const percentile = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.ceil(share * list.length) - 1)];
console.log(`page at ${phone.width}x${phone.height}, processor slowed ${slowed} times, case of ${moved.length} entries and growing`);
console.log(`opened to usable: ${usable} ms`);
const line = (kind, list) => {
  const [paint, scripts] = [list.map((one) => one.toPaint), list.map((one) => one.scripts)];
  const ms = (value) => `${value.toFixed(0).padStart(4)} ms`;
  return `${kind.padEnd(20)} median ${ms(percentile(paint, 0.5))}   95th ${ms(percentile(paint, 0.95))}   in scripts ${ms(percentile(scripts, 0.5))}   n ${list.length}`;
};
for (const [kind, list] of Object.entries(figures)) console.log(line(kind, list));
const all = Object.values(figures).flat();
console.log(`${line('every tap to paint', all)}   (aim: 95th at most 100)`);
console.log(line("a bare page's tap", floor));
const durable = await page.evaluate(() => globalThis.saves);
console.log(`save tapped to saved and shown: median ${percentile(durable, 0.5).toFixed(0)} ms, 95th ${percentile(durable, 0.95).toFixed(0)} ms, n ${durable.length} (aim: 95th at most 300)`);
await browser.close();
front.close();
