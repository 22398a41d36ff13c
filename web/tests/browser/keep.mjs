// What was tapped stays: through a reload after each save, with no server, and against bouncing fingers.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hands, entriesOf } from './hands.mjs';
import { command, dist, openPhone } from './ward.mjs';
import { startFront } from './front.mjs';

async function survivesReloads({ browser, ward }) {
  const { page, context, faults } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  let known = (await entriesOf(page)).length;
  for (const act of [() => hands.vitals(118, 84), () => hands.did(undefined, 'Soft'), () => hands.did('People', 'Help called')]) {
    await act();
    await page.waitForURL(/#\/case\/[^/]+$/);
    await page.reload();
    await page.getByRole('button', { name: 'Vitals', exact: true }).waitFor();
    const now = (await entriesOf(page)).length;
    assert.equal(now, known + 1, 'one entry more after each tap, also after a reload');
    known = now;
  }
  await hands.see('in shock');
  assert.deepEqual(faults, []);
  await context.close();
}

async function bounces({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  await hands.tap('Did');
  const key = page.getByRole('button', { name: 'Soft', exact: true });
  await key.evaluate((button) => {
    button.click();
    button.click();
  });
  await page.waitForTimeout(120);
  await key.tap();
  await hands.settle();
  assert.equal((await entriesOf(page)).filter((one) => one.value === 'soft').length, 1, 'one touch, however it bounced');
  await page.waitForTimeout(300);
  await key.tap();
  await hands.settle();
  assert.equal((await entriesOf(page)).filter((one) => one.value === 'soft').length, 2, 'a second touch is a second entry');
  await context.close();
}

async function nothingMoves({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  const boxes = () =>
    page.evaluate(() =>
      [...document.querySelectorAll('.pads .key, .ways .key, .due-act')].map((key) => {
        const { x, y, width, height } = key.getBoundingClientRect();
        return `${Math.round(x)} ${Math.round(y)} ${Math.round(width)} ${Math.round(height)}`;
      }),
    );
  const before = await boxes();
  await page.getByRole('button', { name: /^(DONE|GO)/ }).first().tap();
  if (await page.locator('.sheet').count()) await page.getByRole('button', { name: /Back$/ }).tap();
  for (let i = 0; i < 6; i += 1) {
    await page.waitForTimeout(55);
    assert.deepEqual(await boxes(), before, 'no live key moves within 400 ms of a tap');
  }
  await context.close();
}

// The order of cards is the core's; it changes only when no finger is down and none was for two seconds.
async function noCardUnderAFinger({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start('Bed 1');
  await hands.vitals(92, 116);
  await hands.did(undefined, 'None');
  await hands.tap(/^Cases/);
  await hands.start('Bed 2');
  await hands.vitals(124, 78);
  await hands.tap(/^Cases/);
  const beds = () => page.locator('.card-title b').allInnerTexts();
  await page.waitForTimeout(2600);
  assert.deepEqual(await beds(), ['Bed 2', 'Bed 1'], 'the one in shock is on top');
  const calm = (await entriesOf(page)).find((one) => one.label === 'Bed 1').case;
  const stamp = new Date().toISOString();
  const told = [0, 1, 2].map((i) => ({
    id: `01d00000-0000-7000-8000-00000000000${i}`,
    case: calm,
    at: stamp,
    written: stamp,
    by: 'unclaimed',
    from: 'phone-2',
    ...[
      { kind: 'vitals', pulse: 'unrecordable', sbp: 'unrecordable' },
      { kind: 'finding', what: 'tone', value: 'soft' },
      { kind: 'finding', what: 'bleeding', value: 'heavy' },
    ][i],
  }));
  const session = await context.newCDPSession(page);
  await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: 20, y: 500 }] });
  await page.evaluate((entries) => new BroadcastChannel('stanch-record').postMessage(entries), told);
  await page.locator('.card').filter({ hasText: 'Bed 1' }).filter({ hasText: /not found/ }).waitFor();
  await page.waitForTimeout(2400);
  assert.deepEqual(await beds(), ['Bed 2', 'Bed 1'], 'not while a finger is down');
  await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await page.waitForTimeout(1500);
  assert.deepEqual(await beds(), ['Bed 2', 'Bed 1'], 'nor within two seconds');
  await page.waitForTimeout(1000);
  assert.deepEqual(await beds(), ['Bed 1', 'Bed 2'], 'then the worst comes first');
  await context.close();
}

async function withoutNetwork({ browser, ward }) {
  // Service workers are allowed here: the page must open again with nothing to load it from.
  const front = ward.front ?? (await startFront(dist, () => ward.port));
  const context = await browser.newContext({ viewport: { width: 360, height: 640 }, hasTouch: true });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  await page.goto(`http://127.0.0.1:${front.port}/`);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await context.setOffline(true);
  await page.reload();
  const hands = new Hands(page);
  await hands.start();
  await hands.vitals(118, 84);
  await hands.settle();
  await hands.see('in shock');
  assert.match(await page.locator('.link-mark').first().innerText(), /kept on this phone, \d+ to send/);
  await page.reload();
  await hands.see('in shock');
  await context.close();
}

async function sameBytes({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  await hands.vitals(118, 84, 50);
  await hands.did(undefined, 'Soft');
  const entries = await entriesOf(page);
  const now = new Date(Date.now() + 60_000).toISOString();
  const folder = mkdtempSync(join(tmpdir(), 'stanch-bytes-'));
  const file = join(folder, 'case.ndjson');
  writeFileSync(file, entries.map((one) => JSON.stringify(one) + '\n').join(''));
  const worker = page.workers()[0];
  const fromPage = await page.evaluate(
    async ([request]) => {
      const url = performance.getEntriesByType('resource').map((one) => one.name).find((name) => /worker.*\.js$/.test(name));
      const worker = new Worker(url, { type: 'module' });
      worker.postMessage({ id: 1, request });
      return new Promise((resolve) => worker.addEventListener('message', (event) => resolve(event.data.answer)));
    },
    [JSON.stringify({ do: 'advise', entries, now })],
  );
  assert.ok(worker, 'the page keeps its core in a worker');
  const native = spawnSync(command, ['case', file, '--at', now, '--json'], { encoding: 'utf8' });
  rmSync(folder, { recursive: true });
  assert.equal(native.status, 0, native.stderr);
  assert.equal(fromPage, native.stdout.trimEnd());
  assert.match(fromPage, /"format":"stanch.advice\/1"/);
  await context.close();
}

async function withoutCore({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start();
  await hands.vitals(118, 84);
  await context.route(/\.wasm$/, (route) => route.abort());
  await page.reload();
  await page.getByText(/Advice has stopped on this phone/).waitFor();
  await hands.vitals(122, 80);
  assert.equal((await entriesOf(page)).filter((one) => one.pulse === 122).length, 1, 'recording goes on without advice');
  await context.close();
}

async function withoutStore({ browser, ward }) {
  const context = await browser.newContext({ viewport: { width: 360, height: 640 } });
  const page = await context.newPage();
  await page.addInitScript(() => Object.defineProperty(globalThis, 'indexedDB', { value: { open: () => { throw new Error('no room'); } } }));
  await page.goto(ward.address);
  await page.getByText('Nothing can be kept on this phone').waitFor();
  await page.getByText(/no room/).waitFor();
  await new Hands(page).look('no-store');
  await context.close();
}

export const tests = [
  ['each tap survives a reload', survivesReloads],
  ['a bouncing finger writes once', bounces],
  ['no live key moves under a finger', nothingMoves],
  ['the worst case comes first, but no card moves under a finger', noCardUnderAFinger],
  ['the page opens and records with no network', withoutNetwork],
  ['a core that does not load stops no record', withoutCore],
  ['a phone that can keep nothing says so', withoutStore],
  ['the page’s core and the command give the same bytes', sameBytes],
];
