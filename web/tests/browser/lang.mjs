// Languages: chosen in two taps and kept, with no network too; what one lacks is shown in English; and a whole case by
// taps in each.
import assert from 'node:assert/strict';
import { entriesOf } from './hands.mjs';
import { accented, english } from './pseudo.mjs';
import { Speaker, catalogues } from './speaker.mjs';
import { openPhone } from './ward.mjs';

const start = new Date('2031-05-06T08:00:00');

async function chosen({ browser, ward }) {
  const { page, faults, context } = await openPhone(browser, ward, { enrol: false, locale: 'es-MX', serviceWorkers: 'allow' });
  const root = () => page.evaluate(() => [document.documentElement.lang, document.documentElement.dir]);
  const spanish = new Speaker(page, catalogues('es'));
  await page.getByText(catalogues('es').page['cases.empty']).waitFor();
  assert.deepEqual(await root(), ['es', 'ltr']);
  const taps = await spanish.count(async () => {
    await spanish.say('language.title');
    await spanish.tap('français');
  });
  assert.equal(taps, 2);
  const french = catalogues('fr').page;
  await page.getByText(french['language.review']).waitFor();
  assert.deepEqual(await root(), ['fr', 'ltr']);
  assert.equal(await page.getByRole('button', { name: 'français' }).getAttribute('aria-pressed'), 'true');

  // Its words are kept for use with no network.
  await page.waitForFunction(async () => (await (await caches.open((await caches.keys()).find((one) => /^stanch-[0-9a-f]/.test(one)))).keys()).some(({ url }) => /assets\/fr-/.test(url)));
  await context.setOffline(true);
  await ward.kill();
  await page.reload();
  await page.getByText(french['language.review']).waitFor();
  assert.deepEqual(await root(), ['fr', 'ltr']);
  await page.getByRole('button', { name: 'English' }).tap();
  await page.getByText(english.page['language.review']).waitFor();
  assert.deepEqual(await root(), ['en', 'ltr']);
  assert.deepEqual(faults, []);
  await context.close();
}

async function lacking({ browser, ward }) {
  const words = structuredClone(accented);
  delete words.page['cases.empty'];
  delete words.shared['name.help'];
  const { page, faults, context } = await openPhone(browser, ward, { enrol: false, locale: 'fr', words });
  await page.getByText(english.page['cases.empty']).waitFor();
  await page.getByText(words.page['cases.title'], { exact: true }).waitFor();
  assert.deepEqual([...new Set(faults)], ['no words for cases.empty in fr: shown in English']);
  await context.close();
}

/** From the first tap to the hand-over, found by the words of the language; the record is the same as in English. */
async function bleed({ browser, ward }, code) {
  const { page, faults, context } = await openPhone(browser, ward, { enrol: false, locale: code, clock: start });
  const hands = new Speaker(page, catalogues(code));
  await hands.say('cases.start');
  await hands.tap(hands.said('bed'), { nth: 3 });
  await hands.settle();
  await page.locator('.due-more').tap();
  const due = hands.words.page;
  await hands.tap(new RegExp(`^${due['due.done']} ${hands.words.shared['due.call_help']}`));
  await hands.settle();
  await page.locator('.due-more').tap();
  await hands.say('vitals.title');
  await hands.type('118');
  await hands.type('84');
  await page.locator('.pad-save .act:visible').tap();
  await hands.settle();
  await hands.say('loss.title');
  await hands.tap('+500');
  await page.waitForTimeout(300);
  await page.locator('.sheet:visible .key.act:visible').last().tap();
  await hands.settle();
  await hands.say('gave.title');
  await page.locator('.give').filter({ hasText: hands.words.shared['name.tranexamic_acid'] }).first().tap();
  await hands.settle();
  await hands.say('did.title');
  await hands.name('massage');
  await page.waitForTimeout(300);
  await hands.back();
  await hands.say('wrap.title');
  await page.locator('.sheet .grid-2 .key').first().tap();
  await page.waitForTimeout(300);
  for (const nth of [-1, -2, -3, -4]) {
    await page.locator('.band').nth(nth).tap();
    await page.waitForTimeout(300);
  }
  await hands.back();
  await hands.say('move.title');
  await hands.say('move.decided');
  await hands.settle();
  await hands.back();
  const kept = await entriesOf(page);
  const kinds = kept.map((one) => one.kind);
  for (const kind of ['opened', 'finding', 'call', 'vitals', 'loss', 'drug', 'manoeuvre', 'garment', 'place']) assert.ok(kinds.includes(kind), kind);
  const vitals = kept.find((one) => one.kind === 'vitals');
  assert.deepEqual([vitals.pulse, vitals.sbp], [118, 84]);
  const drug = kept.find((one) => one.kind === 'drug');
  assert.deepEqual([drug.drug, drug.dose, drug.unit, drug.route], ['tranexamic_acid', 1, 'g', 'iv_slow']);
  assert.ok(!/[\u2066-\u2069]/.test(JSON.stringify(kept)), 'no marks of direction in the record');
  const text = await page.locator('body').innerText();
  assert.ok(!/[\u0660-\u0669\u06f0-\u06f9\u0966-\u096f]/.test(text), 'western digits everywhere');
  assert.deepEqual(faults, []);
  await context.close();
}

export const tests = [
  ['chosen in two taps, kept with no network', chosen],
  ['a message that a language lacks is shown in English', lacking],
  ['a whole case in French', (with_) => bleed(with_, 'fr')],
  ['a whole case in Spanish', (with_) => bleed(with_, 'es')],
];
