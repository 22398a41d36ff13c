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

// From the touch's own time stamp to the frame after the page has answered it.
await page.evaluate(() => {
  globalThis.taps = [];
  globalThis.saves = [];
  let saving;
  // A pad closes when its entry is durable.
  new MutationObserver(() => {
    if (saving === undefined || document.querySelector('.sheet')) return;
    globalThis.saves.push(performance.now() - saving);
    saving = undefined;
  }).observe(document.body, { childList: true, subtree: true });
  document.addEventListener(
    'click',
    (event) => {
      const touched = event.timeStamp;
      if (event.target.closest?.('.pad-save .act')) saving = touched;
      requestAnimationFrame(() => setTimeout(() => globalThis.taps.push(performance.now() - touched)));
    },
    true,
  );
});

const figures = {};
async function tap(kind, key) {
  await page.waitForTimeout(300);
  const before = await page.evaluate(() => globalThis.taps.length);
  await key.tap();
  await page.waitForFunction((count) => globalThis.taps.length > count, before);
  (figures[kind] ??= []).push(await page.evaluate(() => globalThis.taps.at(-1)));
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
await bare.setContent('<button>0</button>');
await (await context.newCDPSession(bare)).send('Emulation.setCPUThrottlingRate', { rate: slowed });
await bare.evaluate(() => {
  globalThis.taps = [];
  document.addEventListener('click', (event) => {
    const touched = event.timeStamp;
    event.target.textContent += '1';
    requestAnimationFrame(() => setTimeout(() => globalThis.taps.push(performance.now() - touched)));
  });
});
for (let i = 0; i < rounds; i += 1) {
  await bare.waitForTimeout(300);
  await bare.locator('button').tap();
  await bare.waitForFunction((count) => globalThis.taps.length > count, i);
}
const least = await bare.evaluate(() => globalThis.taps);

const percentile = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.ceil(share * list.length) - 1)];
console.log(`page at ${phone.width}x${phone.height}, processor slowed ${slowed} times, case of ${moved.length} entries and growing`);
console.log(`opened to usable: ${usable} ms`);
for (const [kind, list] of Object.entries(figures))
  console.log(`${kind.padEnd(20)} median ${percentile(list, 0.5).toFixed(0).padStart(4)} ms   95th ${percentile(list, 0.95).toFixed(0).padStart(4)} ms   n ${list.length}`);
const all = Object.values(figures).flat();
console.log(`every tap to paint   median ${percentile(all, 0.5).toFixed(0).padStart(4)} ms   95th ${percentile(all, 0.95).toFixed(0).padStart(4)} ms   (aim: 95th at most 100)`);
const durable = await page.evaluate(() => globalThis.saves);
const ratio = percentile(all, 0.5) / percentile(least, 0.5);
console.log(`a bare page's tap     median ${percentile(least, 0.5).toFixed(0).padStart(4)} ms   95th ${percentile(least, 0.95).toFixed(0).padStart(4)} ms   so this page takes ${ratio.toFixed(1)} times the least`);
console.log(`save tapped to saved and shown: median ${percentile(durable, 0.5).toFixed(0)} ms, 95th ${percentile(durable, 0.95).toFixed(0)} ms, n ${durable.length} (aim: 95th at most 300)`);
await browser.close();
front.close();
