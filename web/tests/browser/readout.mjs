// The reader says the line, the doer answers, the reader taps: what DONE and NOT NOW write is what the due row's keys write.
import assert from 'node:assert/strict';
import { check } from './access.mjs';
import { Hands, entriesOf } from './hands.mjs';
import { desk, openPhone, phone as small } from './ward.mjs';

const line = (page) => page.locator('.readout-line');
const bare = ({ kind, what, who, drug, dose, unit, route }) => ({ kind, what, who, drug, dose, unit, route });
const look = (page, name) => process.env.SHOTS && page.screenshot({ path: `${process.env.SHOTS}/readout-${name}.png` });

async function putOff(hands) {
  await hands.tap('NOT NOW');
  await hands.tap('Something else first');
}

async function readOut({ browser, ward }, size, theme) {
  const phone = await openPhone(browser, ward, { size, theme, enrol: false, clock: new Date('2031-05-06T08:00:00') });
  const { page } = phone;
  await page.evaluate(() => {
    globalThis.said = [];
    speechSynthesis.speak = (words) => globalThis.said.push(words.text);
  });
  const hands = new Hands(page);
  await hands.start('Bed 4');
  const top = page.locator('.due').first();
  const words = await top.locator('b').innerText();
  await hands.within('open read-out', async () => {
    if (size === desk) return hands.tap('Read-out');
    await top.locator('.due-text').tap();
    hands.taps += 1;
    return hands.tap('Read-out');
  });
  await line(page).waitFor();
  assert.equal(await line(page).innerText(), words, 'the line is the first due row');
  const height = await line(page).evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize));
  assert.ok(height >= 32 && height <= 48, `${height} px`);
  await look(page, `${size.width}-${theme}`);
  await check(page, 'read-out');

  await hands.tap('SPEAK');
  const said = await page.evaluate(() => globalThis.said);
  assert.equal(said.length, 1);
  assert.ok(said[0].startsWith(words.slice(0, 8)), said[0]);
  assert.doesNotMatch(said[0], /\d/, 'numbers are said as words');

  // Put off what is measured on a pad, until an act comes up that one tap does.
  await hands.within('not now with its reason', () => putOff(hands));
  await hands.settle();
  const declined = (await entriesOf(page)).at(-1);
  assert.equal(declined.kind, 'advice_declined');
  assert.equal(declined.why, 'other_first');
  assert.notEqual(await line(page).innerText(), words, 'the next act has come up');
  for (let most = 5; most > 0 && (await page.getByRole('button', { name: 'GO', exact: true }).isVisible()); most -= 1) {
    await putOff(hands);
    await hands.settle();
  }

  // DONE writes what the row's own key writes on another phone.
  const act = await line(page).innerText();
  const other = await openPhone(browser, ward, { size, enrol: false, clock: new Date('2031-05-06T08:00:00') });
  const others = new Hands(other.page);
  await others.start('Bed 4');
  if (size === small) await others.tap(/more due$/);
  await others.tap(`DONE ${act}`);
  await others.settle();
  await hands.within('read-out step done', () => hands.tap(/^DONE \d\d:\d\d$/));
  await hands.settle();
  const [mine, theirs] = [(await entriesOf(page)).at(-1), (await entriesOf(other.page)).at(-1)];
  assert.ok(!['opened', 'advice_declined'].includes(mine.kind), mine.kind);
  assert.deepEqual(bare(mine), bare(theirs));
  assert.notEqual(await line(page).innerText(), act, 'the next act has come up');
  await other.context.close();

  await hands.tap(/Back$/);
  await page.locator('.sheet').waitFor({ state: 'detached' });
  assert.deepEqual(phone.faults, []);
  await phone.context.close();
}

async function silent({ browser, ward }) {
  const phone = await openPhone(browser, ward, { enrol: false, clock: new Date('2031-05-06T08:00:00') });
  await phone.context.addInitScript(() => delete Object.getPrototypeOf(globalThis).speechSynthesis && delete globalThis.speechSynthesis);
  await phone.page.reload();
  assert.equal(await phone.page.evaluate(() => 'speechSynthesis' in globalThis), false);
  const hands = new Hands(phone.page);
  await hands.start('Bed 4');
  await phone.page.locator('.due-text').first().tap();
  await hands.tap('Read-out');
  await hands.see('This phone has no voice');
  assert.ok(await phone.page.getByRole('button', { name: 'SPEAK' }).isDisabled());
  assert.deepEqual(phone.faults, []);
  await phone.context.close();
}

export const tests = [
  ['one act read out, done, and put off', (given) => readOut(given, small, 'light')],
  ['the same on a desk at night', (given) => readOut(given, desk, 'dark')],
  ['a phone without a voice says so', silent],
];
