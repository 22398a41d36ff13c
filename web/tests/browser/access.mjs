// Every screen in both themes and both sizes: nothing that axe finds wrong, targets large enough and apart, no line cut.
// With SHOTS=FOLDER each screen is kept as a picture.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Hands } from './hands.mjs';
import { desk, openPhone, phone } from './ward.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const shots = process.env.SHOTS;

export async function check(page, name) {
  await page.evaluate(axe);
  const found = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: { type: 'tag', values: tags } }), rules);
  const told = found.violations.map((one) => `${name}: ${one.id}: ${one.nodes.map((node) => `${node.target} ${node.failureSummary}`).join('; ')}`);
  assert.deepEqual(told, []);
  const small = await page.evaluate(() => {
    // What is tapped in a live case is larger; a band as wide as the screen may be lower.
    const live = '.pads .key, .ways .key, .pad-key, .due-act, .due-text, .give, .did, .chip.live';
    const least = (key) => (key.matches(live) ? [72, 64] : key.matches('.band') ? [72, 56] : [48, 48]);
    return [...document.querySelectorAll('button, input, select, a[href], summary, [role=button], [onclick]')]
      .filter((key) => key.checkVisibility({ visibilityProperty: true }))
      .map((key) => [key, key.getBoundingClientRect(), least(key)])
      .filter(([, box, [width, height]]) => box.height < height - 0.5 || box.width < width - 0.5)
      .map(([key, box]) => `${key.className}: ${key.textContent} ${Math.round(box.width)}x${Math.round(box.height)}`);
  });
  assert.deepEqual(small, [], `${name}: too small to touch`);
  const close = await page.evaluate(() => {
    const keys = [...document.querySelectorAll('button, input')].filter((key) => key.checkVisibility({ visibilityProperty: true }) && !key.matches('.row, .take-back-what, .take-back-bar .key'));
    const boxes = keys.map((key) => [key, key.getBoundingClientRect()]);
    const gap = (a, b) => Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom);
    return boxes.flatMap(([a, boxA], i) =>
      boxes
        .slice(i + 1)
        // What scrolls may pass under what stands still.
        .filter(([b, boxB]) => a.closest('.scroll, .due-box') === b.closest('.scroll, .due-box') && a.closest('dialog, .sheet, .drop') === b.closest('dialog, .sheet, .drop') && gap(boxA, boxB) < 7.5)
        .map(([b, boxB]) => `${a.textContent} | ${b.textContent}: ${gap(boxA, boxB).toFixed(1)} px`),
    );
  });
  assert.deepEqual(close, [], `${name}: too close together`);
  const cut = await page.evaluate(() =>
    [...document.querySelectorAll('button, h1, h2, .state, .figures')]
      .filter((box) => box.offsetParent !== null && (box.scrollWidth > box.clientWidth + 1 || box.scrollHeight > box.clientHeight + 2))
      .map((box) => `${box.className}: ${box.textContent} (${box.scrollWidth}/${box.clientWidth}, ${box.scrollHeight}/${box.clientHeight})`),
  );
  assert.deepEqual(cut, [], `${name}: words cut off`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
  assert.equal(wide, false, `${name}: scrolls sideways`);
}

async function screens({ browser, ward }, size, theme) {
  const { page, context, faults } = await openPhone(browser, ward, { enrol: false, size, theme, clock: new Date('2031-05-06T08:00:00') });
  const hands = new Hands(page);
  const at = `${size.width}-${theme}`;
  const look = async (name) => {
    await page.waitForTimeout(120);
    if (shots) await page.screenshot({ path: `${shots}/${at}-${name}.png` });
    await check(page, `${at} ${name}`);
  };
  const back = async () => {
    await hands.tap(/Back$/);
    await page.waitForTimeout(60);
  };
  await look('empty');
  await hands.tap('+ Bleeding now');
  await page.waitForTimeout(200);
  await look('start');
  if (size === desk) {
    // The first steps are live beside the questions, before anyone has said where she is.
    await page.getByRole('button', { name: /^DONE Call for help/ }).click();
    await page.locator('.first-steps .take-back').getByText(/help/).waitFor();
    await look('start-done');
    await hands.tap('Take back');
    await hands.settle();
    await page.getByRole('button', { name: /^DONE Call for help/ }).waitFor();
  }
  await hands.tap('Bed 4');
  await hands.settle();
  await hands.tap(/^born|^started/);
  await page.waitForTimeout(200);
  await look('woman');
  await hands.tap('15 min ago');
  await hands.tap('Asthma');
  await back();
  await hands.tap('Vitals');
  await look('vitals');
  for (const digit of '12282505') {
    await hands.tap(digit);
    await page.waitForTimeout(270);
  }
  await look('vitals-typed');
  await back();
  await hands.tap('Vitals');
  for (const digit of '1268248') {
    await hands.tap(digit);
    await page.waitForTimeout(270);
  }
  await hands.tap(/^Save \d/);
  await hands.settle();
  await look('bedside');
  await page.clock.fastForward(11_000);
  await hands.settle();
  await hands.tap('Loss');
  await look('loss');
  await hands.tap('+500');
  await page.waitForTimeout(300);
  await hands.tap('Save +500 mL');
  await hands.settle();
  await hands.tap('Loss');
  await hands.tap('Weighed');
  await look('loss-weighed');
  await hands.tap('Drape');
  await back();
  await hands.tap('Gave');
  await look('gave');
  for (const tab of ['Womb', 'Blood', 'Fluid', 'Other']) {
    await hands.tap(tab);
    await look(`gave-${tab.toLowerCase()}`);
  }
  await hands.tap('Other amount');
  await look('gave-amount');
  await hands.tap('Womb');
  await hands.tap(/^Carboprost 0\.25 mg into muscle/);
  await page.getByRole('dialog').waitFor();
  await look('stop');
  await page.getByRole('dialog').getByRole('button', { name: 'Hold it' }).click();
  await back();
  await hands.tap('Did');
  await look('did');
  for (const tab of ['Look', 'Hold', 'People', 'More']) {
    await hands.tap(tab);
    await look(`did-${tab.toLowerCase()}`);
  }
  await back();
  await hands.tap('Wrap');
  await look('wrap-none');
  await hands.tap(/no number/);
  for (const band of ['Ankle', 'Calf', 'Thigh', 'Pelvis']) {
    await hands.tap(new RegExp(`^${band} panel`));
    await page.waitForTimeout(300);
  }
  await hands.settle();
  await look('wrap');
  await hands.tap(/^Ankle panel/);
  await look('wrap-picked');
  await back();
  await page.clock.fastForward(11_000);
  await hands.settle();
  await look('bedside-wrapped');
  if (size === phone) {
    await hands.tap(/more due$/);
    await look('bedside-all-due');
    await hands.tap('Show fewer');
  }
  await page.locator('.due-text').first().click();
  await look('why');
  await back();
  await page.locator('.past .row').last().click();
  await look('row');
  await hands.tap('at…');
  await look('row-at');
  await back();
  await hands.tap('Course');
  await look('course');
  await back();
  await hands.tap('Move');
  await look('move');
  await back();
  await hands.tap(/^Cases/);
  await hands.settle();
  await look('cases');
  await page.locator('.strip .to-link').click();
  await look('link');
  await hands.tap(/Cases$/);
  await hands.tap('Language');
  await look('language');
  assert.deepEqual(faults, []);
  await context.close();
}

export const tests = [
  ['phone by day', (with_) => screens(with_, phone, 'light')],
  ['phone by night', (with_) => screens(with_, phone, 'dark')],
  ['desk by day', (with_) => screens(with_, desk, 'light')],
  ['desk by night', (with_) => screens(with_, desk, 'dark')],
];
