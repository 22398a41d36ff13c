// A wet screen: phantom touches at random places of the real page, three a second, in storms of a minute on a case under
// way with a garment on and another case beside it. Counts what they did and must not: a dose recorded, a panel opened, the case in view
// changed. Usage: node bench/wet.mjs [MINUTES] [PAGES]      wants web/dist and a chromium
import { startFront } from '../web/tests/browser/front.mjs';
import { entriesOf } from '../web/tests/browser/hands.mjs';
import { seed, told } from '../web/tests/browser/places.mjs';
import { dist, openBrowser, phone } from '../web/tests/browser/ward.mjs';

const minutes = Number(process.argv[2] ?? 10);
const pages = Number(process.argv[3] ?? 6);
const perSecond = 3;
const storm = 60_000; // ms

/** Repeatable random numbers in [0, 1): mulberry32. */
function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const isDose = (entry) => ['drug', 'fluid', 'blood'].includes(entry.kind);
const isOpening = (entry) => entry.kind === 'garment' && ['open', 'off'].includes(entry.action);
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

async function rain(browser, address, number, seconds) {
  const next = random(number);
  const context = await browser.newContext({ viewport: phone, hasTouch: true, serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.goto(address);
  const here = told('relapse-unwrapping', { only: 3 * 3_600_000 });
  const beside = told('atony-answers', { ago: 300_000 });
  await seed(page, [...here, ...beside]);
  const session = await context.newCDPSession(page);
  const known = new Set((await entriesOf(page)).map((entry) => entry.id));
  const counts = { touches: 0, entries: 0, doses: 0, openings: 0, switches: 0 };
  const end = Date.now() + seconds * 1000;
  let view;
  const inView = async () => {
    const now = /#\/case\/([^/]+)/.exec(page.url())?.[1];
    if (now && now !== view) {
      if (view) counts.switches += 1;
      view = now;
    }
  };
  while (Date.now() < end) {
    view = here[0].case;
    await page.goto(`${address}#/case/${view}`);
    await page.reload();
    await page.getByRole('button', { name: 'Vitals', exact: true }).waitFor();
    await pause(2000);
    const over = Math.min(end, Date.now() + storm);
    while (Date.now() < over) {
      const before = Date.now();
      const gap = (-Math.log(1 - next()) * 1000) / perSecond;
      const point = { x: Math.floor(next() * phone.width), y: Math.floor(next() * phone.height) };
      const held = 20 + next() * 80;
      await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [point] });
      await pause(held);
      await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
      counts.touches += 1;
      await inView();
      await pause(Math.max(0, gap - (Date.now() - before)));
    }
  }
  for (const entry of await entriesOf(page)) {
    if (known.has(entry.id)) continue;
    counts.entries += 1;
    if (isDose(entry)) console.error(`  a dose: ${entry.kind} ${entry.drug ?? entry.fluid ?? entry.product} at ${entry.written}`);
    counts.doses += isDose(entry);
    counts.openings += isOpening(entry);
  }
  await context.close();
  return counts;
}

const front = await startFront(dist, () => 9); // no server behind it
const browser = await openBrowser();
const all = await Promise.all(
  Array.from({ length: pages }, (_, i) => rain(browser, `http://127.0.0.1:${front.port}/`, 1 + i, (minutes * 60) / pages)),
);
const sum = (what) => all.reduce((total, one) => total + one[what], 0);
console.log(
  `${minutes} min of storm, ${sum('touches')} touches: ${sum('doses')} doses, ${sum('openings')} openings, ` +
    `${sum('switches')} changes of case; ${sum('entries')} entries of all kinds`,
);
await browser.close();
front.close();
process.exit(sum('doses') + sum('openings') + sum('switches') === 0 ? 0 : 1);
