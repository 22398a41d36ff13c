// How long from a tap to the next painted frame on a slow phone: the page at 360x640 with the processor slowed 6 times,
// a case of the demo's longest kind in its store, every kind of tap in turn. Prints medians and 95th percentiles.
// Usage: node bench/page.mjs [CASE.ndjson]      wants web/dist and a chromium; CHROMIUM names another browser
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { startFront } from '../web/tests/browser/front.mjs';
import { dist, openBrowser, phone } from '../web/tests/browser/ward.mjs';

const slowed = 6;
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
async function listen(watched, session) {
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  await watched.evaluate((durationThreshold) => {
    globalThis.interactions = new Map();
    new PerformanceObserver((list) => {
      for (const one of list.getEntries()) {
        if (one.interactionId === 0) continue;
        globalThis.interactions.set(one.interactionId, Math.max(one.duration, globalThis.interactions.get(one.interactionId) ?? 0));
      }
    }).observe({ type: 'event', durationThreshold });
  }, least);
}

/** The page's thread's own time so far: other programs on the machine do not lengthen it. */
async function worked(session) {
  const { metrics } = await session.send('Performance.getMetrics');
  return metrics.find((one) => one.name === 'TaskDuration').value * 1000;
}

/** What one tap took; every event of a tap has the tap's id, and the longest of them counts. The key is found beforehand:
 *  the tool's own scripts on the page would be part of what is timed. */
async function timed(watched, session, key) {
  const box = await key.boundingBox();
  await watched.waitForTimeout(300);
  const before = await watched.evaluate(() => globalThis.interactions.size);
  await watched.waitForTimeout(100);
  const from = await worked(session);
  await watched.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
  await watched.waitForTimeout(350); // the longest of a tap's events comes after its own frame
  const work = (await worked(session)) - from;
  const told = await watched.evaluate((count) => [...globalThis.interactions.values()].slice(count), before);
  return { toPaint: Math.max(least, ...told), work };
}

await listen(page, session);
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

const key = (name) => page.getByRole('button', { name, exact: typeof name === 'string' }).first();

/** Every kind of tap, some rounds of each. */
async function walk(rounds) {
  const figures = {};
  const tap = async (kind, what) => (figures[kind] ??= []).push(await timed(page, session, what));
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
  return figures;
}
const figures = await walk(12);
const durable = await page.evaluate(() => globalThis.saves);

// What the machine itself takes for the least a page can do, slowed as much: it tells a busy machine from a slow page.
const bare = await context.newPage();
await bare.setContent('<meta name="viewport" content="width=device-width"><button style="touch-action: manipulation">0</button>');
const bareSession = await context.newCDPSession(bare);
await bareSession.send('Emulation.setCPUThrottlingRate', { rate: slowed });
await bare.evaluate(() => document.addEventListener('click', (event) => (event.target.textContent += '1')));
await listen(bare, bareSession);
const floor = [];
for (let i = 0; i < 48; i += 1) floor.push(await timed(bare, bareSession, bare.locator('button')));

await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
await bareSession.send('Emulation.setCPUThrottlingRate', { rate: 1 });
const unslowed = await walk(4);
const unslowedFloor = [];
for (let i = 0; i < 8; i += 1) unslowedFloor.push(await timed(bare, bareSession, bare.locator('button')));

const percentile = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.ceil(share * list.length) - 1)];
const ms = (value, decimals = 0) => `${value.toFixed(decimals).padStart(4)} ms`;
function line(kind, list, light) {
  const paint = list.map((one) => one.toPaint);
  const work = percentile(light.map((one) => one.work), 0.5);
  return `${kind.padEnd(20)} median ${ms(percentile(paint, 0.5))}   95th ${ms(percentile(paint, 0.95))}   n ${String(list.length).padStart(3)}   work, not slowed ${ms(work, 1)}`;
}
console.log(`page at ${phone.width}x${phone.height}, processor slowed ${slowed} times, case of ${moved.length} entries and growing`);
console.log(`opened to usable: ${usable} ms`);
for (const [kind, list] of Object.entries(figures)) console.log(line(kind, list, unslowed[kind]));
console.log(`${line('every tap', Object.values(figures).flat(), Object.values(unslowed).flat())}   (aim: 95th at most 100)`);
console.log(line("a bare page's tap", floor, unslowedFloor));
console.log(`save tapped to saved and shown: median ${ms(percentile(durable, 0.5))}, 95th ${ms(percentile(durable, 0.95))}, n ${durable.length} (aim: 95th at most 300)`);
await browser.close();
front.close();
