// Fingers that bounce, drops that touch, keys that must hold still.
import assert from 'node:assert/strict';
import { Hands, entriesOf } from './hands.mjs';
import { everyPlace, seed, told } from './places.mjs';
import { openPhone } from './ward.mjs';

const wrapped = () => told('relapse-unwrapping', { only: 3 * 3_600_000 });

async function begin({ browser, ward }) {
  const phone = await openPhone(browser, ward, { enrol: false });
  const entries = wrapped();
  await seed(phone.page, entries);
  return { ...phone, id: entries[0].case };
}

// Each control of every screen takes two clicks some ms apart; what reaches it is counted and goes no further.
async function everyKey(given) {
  const { page, context, id } = await begin(given);
  let seen = [];
  await everyPlace(page, id, async (name) => {
    const { twice, names } = await page.evaluate(async (known) => {
      const keys = [...document.querySelectorAll('button')].filter((key) => !key.disabled && key.checkVisibility({ visibilityProperty: true }));
      const fresh = keys.filter((key) => !known.includes(key.textContent));
      let reached = 0;
      const stop = (event) => {
        reached += 1;
        event.stopImmediatePropagation();
      };
      document.addEventListener('click', stop, true);
      const twice = [];
      for (const [i, key] of fresh.entries()) {
        reached = 0;
        const first = performance.now();
        key.click();
        await new Promise((resolve) => setTimeout(resolve, [30, 90, 200][i % 3]));
        const late = performance.now() - first > 240; // a busy machine: no bounce any more
        key.click();
        if (reached > 1 && !late) twice.push(`${key.textContent}: ${reached}`);
      }
      document.removeEventListener('click', stop, true);
      return { twice, names: fresh.map((key) => key.textContent) };
    }, seen);
    assert.deepEqual(twice, [], `${name}: a bounce is one touch`);
    seen = [...seen, ...names];
  });
  assert.ok(seen.length > 80, `only ${seen.length} keys were tried`);
  await context.close();
}

// What a tap opens may have a key under the same finger: the bounce must not press it.
async function whatOpensUnderneath(given) {
  const { page, context, id } = await begin(given);
  const session = await context.newCDPSession(page);
  // Not waited for: the page is still answering the first touch when the second comes.
  const touch = (point) =>
    Promise.all([
      session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [point] }),
      session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] }),
    ]);
  for (const [i, name] of ['Vitals', 'Loss', 'Gave', 'Did', 'Wrap', 'Course', 'Move'].entries()) {
    await page.evaluate((hash) => { location.hash = hash; }, `#/case/${id}`);
    await page.waitForTimeout(400);
    const box = await page.getByRole('button', { name, exact: true }).boundingBox();
    const point = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const first = touch(point);
    await new Promise((resolve) => setTimeout(resolve, [30, 80, 130][i % 3]));
    await Promise.all([first, touch(point)]);
    await page.locator('.sheet').waitFor();
    await page.waitForTimeout(200);
    assert.equal(await page.locator('.sheet [aria-pressed=true].band, .sheet .picked').count(), 0, `${name}: nothing chosen`);
    assert.deepEqual((await entriesOf(page)).filter((one) => one.from !== 'case-text').map((one) => JSON.stringify(one)), [], `${name}: nothing written`);
    assert.match(page.url(), new RegExp(`/${name.toLowerCase()}$`), `${name}: still open`);
  }
  await context.close();
}

// Live keys hold still for 400 ms after a tap, also when something new comes due meanwhile; and little shifts at all.
async function stillKeys(given) {
  const { page, context, id } = await begin(given);
  const hands = new Hands(page);
  await page.goto(`${given.ward.address}#/case/${id}`);
  await page.locator('.state b').filter({ hasText: /\w/ }).waitFor();
  await hands.settle();
  await page.evaluate(() => {
    globalThis.moved = [];
    globalThis.shift = 0;
    new PerformanceObserver((list) => {
      // The rows of what happened grow upwards by design; the rest holds still.
      for (const one of list.getEntries())
        if (one.sources.some((source) => source.node?.parentElement?.closest('.work, .strip, .now-line'))) globalThis.shift += one.value;
    }).observe({ type: 'layout-shift' });
    const places = () => new Map([...document.querySelectorAll('.pads .key, .ways .key, .due-act')].map((key) => [key, JSON.stringify(key.getBoundingClientRect())]));
    addEventListener('pointerup', (event) => {
      const before = places();
      const look = () => {
        if (performance.now() - event.timeStamp > 390) return;
        for (const [key, at] of places()) {
          if (before.has(key) && before.get(key) !== at) globalThis.moved.push(`${key.textContent}: ${before.get(key)} to ${at}`);
          if (!before.has(key)) globalThis.moved.push(`${key.textContent} came`);
        }
        requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    }, true);
  });
  const tell = (told, id) =>
    page.evaluate(
      ([payload, id]) => {
        const stamp = new Date().toISOString();
        const entry = { id: `01d00000-0000-7000-8000-${String(Math.floor(performance.now())).padStart(12, '0')}`, case: id, at: stamp, written: stamp, by: 'unclaimed', from: 'phone-2', ...payload };
        new BroadcastChannel('stanch-record').postMessage([entry]);
      },
      [told, id],
    );
  // A touch on nothing, and in the same moment another phone tells of a bleed.
  const line = await page.locator('.figures').boundingBox();
  await page.touchscreen.tap(line.x + line.width / 2, line.y + line.height / 2);
  await tell({ kind: 'vitals', pulse: 136, sbp: 74, dbp: 40 }, id);
  await hands.settle();
  await hands.settle();
  await page.touchscreen.tap(line.x + line.width / 2, line.y + line.height / 2);
  await tell({ kind: 'finding', what: 'bleeding', value: 'heavy' }, id);
  await hands.settle();
  await hands.settle();
  assert.deepEqual(await page.evaluate(() => globalThis.moved), []);
  const shift = await page.evaluate(() => globalThis.shift);
  assert.ok(shift < 0.02, `layout shift ${shift}, 0.02 allowed`);
  await context.close();
}

// Drops on the glass: two touches on nothing, far apart, close the page to touches; two keys in order open it again, and
// what was saved just before can be taken back.
async function wetScreen({ browser, ward }) {
  const { page, context, faults } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  await hands.did(undefined, 'Soft');
  const count = (await entriesOf(page)).length;
  const card = page.getByRole('dialog', { name: 'Is the screen wet?' });
  const middle = async (what) => {
    const box = await page.locator(what).first().boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  const figures = await middle('.figures');
  const aloft = await middle('.strip .link-mark');
  await page.touchscreen.tap(...figures);
  await page.touchscreen.tap(...figures);
  await page.waitForTimeout(200);
  assert.equal(await card.isVisible(), false, 'one place, tapped in haste, is a person');
  const pads = [await middle('.pads .key'), await middle('.due-act')];
  await page.touchscreen.tap(...aloft);
  await card.waitFor();
  for (const pad of pads) await page.touchscreen.tap(...pad);
  const first = card.getByRole('button', { name: 'Tap 1' });
  const second = card.getByRole('button', { name: 'Then 2' });
  await page.waitForTimeout(500);
  await second.tap({ force: true });
  await page.waitForTimeout(500);
  await first.tap();
  await page.waitForTimeout(500);
  await page.touchscreen.tap(...figures);
  await page.waitForTimeout(500);
  await second.tap({ force: true });
  await page.waitForTimeout(500);
  assert.equal(await card.isVisible(), true, 'in order, and with nothing between');
  await first.tap();
  await page.waitForTimeout(100);
  await second.tap({ force: true });
  assert.equal(await card.isVisible(), true, 'and not quicker than a person looks');
  await page.waitForTimeout(500);
  await first.tap();
  await page.waitForTimeout(500);
  await second.tap({ force: true });
  await card.waitFor({ state: 'detached' });
  assert.equal((await entriesOf(page)).length, count, 'nothing was written meanwhile');
  await hands.tap('Take back');
  await hands.settle();
  assert.equal((await entriesOf(page)).filter((one) => one.kind === 'strike').length, 1);
  assert.deepEqual(faults, []);
  await context.close();
}

export const tests = [
  ['a bounce is one touch on every key', everyKey],
  ['a bounce presses nothing that the tap opened', whatOpensUnderneath],
  ['keys hold still, also when something comes due', stillKeys],
  ['a wet screen takes no touch until two keys in order', wetScreen],
];
