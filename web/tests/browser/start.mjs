// The start asks little; what it does not ask is one tap away, and the case runs meanwhile.
import assert from 'node:assert/strict';
import { check } from './access.mjs';
import { Hands, entriesOf } from './hands.mjs';
import { desk, openPhone, phone as small } from './ward.mjs';

async function theRest({ browser, ward }, size) {
  const phone = await openPhone(browser, ward, { size, enrol: false, clock: new Date('2031-05-06T08:00:00') });
  const { page } = phone;
  const hands = new Hands(page);
  const ways = [
    ['At …', 'Who she is'],
    ...(size === desk ? [['Name, age, weight', 'Who she is']] : []),
    ['more', 'Loss'],
  ];
  for (const [key, title] of ways) {
    await hands.tap('+ Bleeding now');
    await page.getByRole('heading', { name: 'Where is she?' }).waitFor();
    await hands.tap(key);
    await page.locator('.sheet').getByRole('heading', { name: title, exact: true }).waitFor();
    await check(page, `start: ${key}`);
    await hands.tap(/Back$/);
    await page.getByRole('button', { name: 'Vitals', exact: true }).waitFor();
    await hands.tap(/^Cases:/);
  }
  const opened = (await entriesOf(page)).filter((one) => one.kind === 'opened');
  assert.equal(opened.length, ways.length, 'every start has its case, and nothing else was told of it');

  assert.deepEqual(phone.faults, []);
  await phone.context.close();
}

export const tests = [
  ['what the start does not ask is one tap away', (given) => theRest(given, small)],
  ['the same on a desk', (given) => theRest(given, desk)],
];
