// One woman's bleed walked by taps alone on a phone of 360x640 that has met no server: first response, garment, theatre
// refused and overridden, two hours of steady signs, unwrapping, relapse, closed again. Taps are held to their budgets.
import assert from 'node:assert/strict';
import { Hands, entriesOf } from './hands.mjs';
import { openPhone } from './ward.mjs';

const start = new Date('2031-05-06T08:00:00');
const effective = (entries) => {
  const struck = new Set(entries.map((one) => one.strikes).filter(Boolean));
  return entries.filter((one) => !struck.has(one.id) && one.kind !== 'strike');
};
const at = async (page, kind) => effective(await entriesOf(page)).filter((one) => one.kind === kind);

async function begin({ browser, ward }) {
  const phone = await openPhone(browser, ward, { enrol: false, clock: start });
  return { ...phone, hands: new Hands(phone.page) };
}

async function firstResponse({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.within('start a case', () => hands.start());
  await page.getByText('Bed 4').first().waitFor();
  await hands.tap(/more due$/);
  await hands.within('due step done', () => hands.tap(/^DONE Call for help/));
  await hands.settle();
  assert.equal((await at(page, 'call')).length, 1);
  await hands.tap('Show fewer');

  await hands.within('core pair', () => hands.vitals(118, 84));
  const [pair] = await at(page, 'vitals');
  assert.deepEqual([pair.pulse, pair.sbp], [118, 84]);
  await hands.settle();
  await hands.see('in shock');

  await hands.within('back-time a row', async () => {
    await hands.tap(/^Saved .*pulse 118/);
    await hands.tap('5 min ago');
  });
  await hands.settle();
  const earlier = (await at(page, 'vitals')).find((one) => one.pulse === 118);
  assert.equal(Date.parse(earlier.at), Date.parse(pair.at) - 5 * 60_000);
  assert.equal(earlier.strikes, pair.id);

  await hands.within('loss by drape', async () => {
    await hands.tap('Loss');
    await hands.tap('+200');
    await hands.tap('Save +200 mL');
  });
  await hands.settle();

  await hands.within('usual dose', async () => {
    await hands.tap('Gave');
    await hands.tap(/^Tranexamic acid 1 g/, { nth: 0 });
  });
  await hands.settle();
  const [dose] = await at(page, 'drug');
  assert.deepEqual([dose.drug, dose.dose, dose.unit, dose.route, dose.infusion], ['tranexamic_acid', 1, 'g', 'iv_slow', { ml: 10, over_min: 10 }]);

  await hands.within('take back', () => hands.tap('Take back'));
  await hands.settle();
  assert.equal((await at(page, 'drug')).length, 0);

  await hands.within('full set of five', () => hands.vitals(120, 86, 50, 24, 97));
  await hands.settle();
  await hands.later(0.2);
  await hands.within('correct a value', async () => {
    await hands.tap(/Pulse 118/);
    await hands.tap('Correct the value');
    await hands.type(116);
    await hands.tap(/^Save \d/);
  });
  await hands.settle();
  const fixed = (await at(page, 'vitals')).find((one) => one.pulse === 116);
  assert.deepEqual([fixed.sbp, fixed.at, fixed.note], [84, earlier.at, 'wrong value']);

  await hands.tap('Vitals');
  await hands.tap(/^Who:/);
  await hands.tap('+ name');
  await page.getByRole('textbox', { name: 'Name' }).fill('Midwife Arlo');
  await page.getByRole('button', { name: 'Add', exact: true }).tap();
  await hands.within('change person', async () => {
    await hands.tap(/^Who:/);
    await hands.tap('Midwife Arlo');
  });
  await hands.tap(/Back$/);
  await hands.did(undefined, 'Soft');
  assert.equal((await at(page, 'finding')).find((one) => one.value === 'soft').by, 'Midwife Arlo');

  await page.getByRole('button', { name: /^Cases/ }).tap();
  await hands.start('Bed 2');
  await hands.within('switch case', async () => {
    await hands.tap(/^Cases/);
    await page.waitForTimeout(650);
    await hands.tap(/Bed 4/);
  });
  await hands.within('show a hand-over code', async () => {
    await hands.tap('Move');
    await hands.tap('Show the hand-over code');
  });
  await page.getByRole('img', { name: /^Symbol 1 of/ }).waitFor();
  await hands.tap(/Back$/);
  await hands.within('read a hand-over code', async () => {
    await hands.tap(/^Cases/);
    await hands.tap('Read a hand-over code');
  });
  await page.getByRole('button', { name: 'Choose photos' }).waitFor();
  assert.deepEqual(faults, []);
  await context.close();
}

async function stopCards({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.tap(/^born|^started/);
  await hands.tap('Asthma');
  await hands.tap(/Back$/);
  await hands.tap('Gave');
  await hands.tap('Womb');
  await hands.tap(/^Carboprost 0\.25 mg/, { nth: 0 });
  const card = page.getByRole('dialog');
  await card.or(page.getByRole('button', { name: 'Vitals', exact: true })).first().waitFor();
  assert.equal(await card.isVisible(), true, 'asthma: carboprost is held');
  await card.getByText(/Asthma/).first().waitFor();
  assert.equal(await card.getByRole('button', { name: 'Go on' }).isDisabled(), true, 'no way on without a reason');
  await card.getByRole('button', { name: 'Hold it' }).tap();
  assert.equal((await at(page, 'drug')).length, 0, 'held back');
  await hands.tap(/^Carboprost 0\.25 mg/, { nth: 0 });
  await card.getByRole('button', { name: 'A senior decided' }).tap();
  if (await card.getByText('Second person').isVisible()) await card.getByRole('button', { name: 'alone' }).tap();
  if (await card.getByText('Which senior decided?').isVisible()) {
    await card.getByRole('button', { name: '+ name' }).tap();
    await card.getByRole('textbox').fill('Dr Quill');
    await card.getByRole('button', { name: 'Add', exact: true }).tap();
  }
  await card.getByRole('button', { name: /Go on|Record/ }).tap();
  await page.locator('.sheet').waitFor({ state: 'detached' });
  assert.equal((await at(page, 'drug')).length, 1);
  const [declined] = await at(page, 'advice_declined');
  assert.equal(declined.advice, 'give:carboprost');
  assert.match(declined.why, /senior_decided/);
  assert.deepEqual(faults, []);
  await context.close();
}

async function oddDose({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.knows(page, 'Midwife Pell');
  const card = page.getByRole('dialog');
  await hands.within('odd dose with second check', async () => {
    await hands.tap('Gave');
    await hands.tap('Other amount');
    await hands.tap('Oxytocin');
    await hands.tap('Into muscle');
    await hands.type(5);
    await hands.tap(/^Save 5 international units/);
    await card.waitFor();
    await hands.look('second-person');
    assert.doesNotMatch(await card.innerText(), /\b5\b/, 'the second person does not see the amount');
    await hands.tap('Midwife Pell');
    await hands.type(5);
    await hands.tap('Compare');
    await hands.tap('Go on');
  });
  await page.locator('.sheet').waitFor({ state: 'detached' });
  const [dose] = await at(page, 'drug');
  assert.deepEqual([dose.drug, dose.dose, dose.unit, dose.route, dose.second], ['oxytocin', 5, 'IU', 'im', 'Midwife Pell']);
  assert.deepEqual(faults, []);
  await context.close();
}

async function openEarly({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.knows(page, 'Midwife Pell');
  await hands.vitals(126, 82);
  await hands.tap('Wrap');
  await hands.tap(/no number/);
  await hands.tap('All on, in order');
  await hands.tap(/^Now: /);
  await hands.settle();
  const card = page.getByRole('dialog');
  await hands.within('open early', async () => {
    await hands.tap(/^Ankle panels/);
    await hands.tap(/^Open ankle panels now/);
    await card.waitFor();
    await hands.look('open-early');
    const lines = (await card.locator('.reasons li').allInnerTexts()).map((line) => line.trim());
    assert.deepEqual(lines.filter((line, i) => lines.indexOf(line) !== i), [], 'nothing is said twice');
    assert.equal(lines.includes('Take pulse and pressure'), true);
    assert.equal(lines.some((line) => /^Take the (pulse|blood pressure)$/.test(line)), false, 'signs are asked for once');
    await hands.tap('A senior decided');
    await hands.tap('Midwife Pell');
    await hands.tap(/Go on|Record/);
  });
  await card.waitFor({ state: 'detached' });
  await hands.settle();
  const [opened] = (await at(page, 'garment')).filter((one) => one.action === 'open');
  assert.deepEqual([opened.segment, opened.second], ['ankle', 'Midwife Pell']);
  assert.match((await at(page, 'advice_declined'))[0].why, /senior_decided/);
  assert.deepEqual(faults, []);
  await context.close();
}

async function presets({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.tap('Gave');
  await hands.tap('Womb');
  await hands.tap(/^Oxytocin 20 international units as an infusion into a vein, in 1000 mL, 60 drops\/min$/);
  await page.locator('.sheet').waitFor({ state: 'detached' });
  await hands.tap('Gave');
  await hands.tap('Other');
  await hands.tap(/^Antibiotic 1 dose slowly into a vein/);
  await page.locator('.sheet').waitFor({ state: 'detached' });
  const [infusion, antibiotic] = await at(page, 'drug');
  assert.deepEqual([infusion.dose, infusion.route, infusion.infusion.ml], [20, 'iv_infusion', 1000]);
  assert.deepEqual([antibiotic.drug, antibiotic.dose, antibiotic.unit], ['antibiotic_prophylaxis', 1, 'dose']);
  await hands.tap('Gave');
  await hands.tap('Fluid');
  for (const fluid of ['Sodium chloride', "Ringer's lactate", 'Balanced crystalloid']) await hands.see(new RegExp(`^${fluid}`));
  await hands.tap(/^Colloid/);
  await hands.type(500);
  await hands.tap('Save 500 mL');
  await page.locator('.sheet').waitFor({ state: 'detached' });
  const [fluid] = await at(page, 'fluid');
  assert.deepEqual([fluid.fluid, fluid.ml], ['colloid', 500]);
  assert.deepEqual(faults, []);
  await context.close();
}

async function secondReading({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.tap('Gave');
  await hands.tap('Blood');
  await hands.tap(/^Red cells 1 unit/);
  const card = page.getByRole('dialog');
  await card.waitFor();
  assert.doesNotMatch(await card.innerText(), /1\s+unit/, 'the second person does not see the amount');
  const reason = card.getByRole('button', { name: 'A senior decided' });
  if (await reason.isVisible()) await reason.tap();
  const go = card.getByRole('button', { name: 'Go on' });
  assert.equal(await go.isDisabled(), true);
  await card.getByRole('button', { name: '+ name' }).tap();
  await card.getByRole('textbox').fill('Midwife Pell');
  await card.getByRole('button', { name: 'Add', exact: true }).tap();
  assert.equal(await go.isDisabled(), true, 'a name alone is no reading');
  await card.getByRole('button', { name: '2', exact: true }).tap();
  await card.getByRole('button', { name: 'Compare' }).tap();
  await card.getByText('First: 1 unit. Second: 2 units.').waitFor();
  await hands.look('second-differs');
  assert.equal(await go.isDisabled(), true, 'two readings that differ go nowhere');
  await card.getByRole('button', { name: 'Read again' }).tap();
  await card.getByRole('button', { name: '1', exact: true }).tap();
  await card.getByRole('button', { name: 'Compare' }).tap();
  await go.tap();
  await page.locator('.sheet').waitFor({ state: 'detached' });
  const [unit] = await at(page, 'blood');
  assert.deepEqual([unit.product, unit.units, unit.second], ['red_cells', 1, 'Midwife Pell']);
  assert.deepEqual(faults, []);
  await context.close();
}

const bands = ['Ankle panels', 'Calf panels', 'Thigh panels', 'Pelvis panel', 'Belly ball panel', 'Belly closing panel'];

async function allOnAtOnce({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.vitals(126, 82);
  await hands.tap('Wrap');
  await hands.tap(/no number/);
  await hands.tap('All on, in order');
  await hands.tap(/^Now: /);
  await hands.settle();
  const closes = (await at(page, 'garment')).filter((one) => one.action === 'close');
  closes.sort((a, b) => (a.id < b.id ? -1 : 1));
  assert.deepEqual(closes.map((one) => one.segment), ['ankle', 'calf', 'thigh', 'pelvis', 'belly_ball', 'belly_close']);
  assert.equal(await page.getByRole('dialog').isVisible(), false, 'each stands after the one below it');
  assert.equal(await page.locator('.band[data-state=closed]').count(), 6);
  assert.deepEqual(faults, []);
  await context.close();
}

async function wrapped({ browser, ward }) {
  const { page, hands, faults, context } = await begin({ browser, ward });
  await hands.start();
  await hands.tap(/^born|^started/);
  await hands.tap('15 min ago');
  await hands.tap('asked, none');
  await hands.tap('Vaginal birth');
  await hands.tap('Out, complete');
  await hands.tap(/Back$/);
  await hands.vitals(126, 82, 50);
  await hands.within('enter wrap', () => hands.tap('Wrap'));
  await hands.tap(/no number/);
  const card = page.getByRole('dialog');
  const ankles = page.getByRole('button', { name: /^Ankle panels/ });
  await card.or(ankles).first().waitFor();
  assert.equal(await card.isVisible(), false, 'a garment for a woman in shock is not held');
  for (const band of bands) await hands.within('segment put on', () => hands.tap(new RegExp(`^${band}`)));
  await hands.settle();
  assert.equal((await at(page, 'garment')).filter((one) => one.action === 'close').length, 6);
  await hands.see(/Act when|Opening rule/);

  // Opening far too early: the card states the rule and wants a reason and a second person.
  await hands.tap(/^Ankle panels/);
  await hands.tap(/^Open ankle panels now/);
  await card.waitFor();
  assert.match(await card.innerText(), /Keep ankle panels closed/);
  assert.match(await card.innerText(), /GR-\d/, 'the rule is named');
  await card.getByRole('button', { name: 'Keep it closed' }).tap();
  await hands.settle();
  assert.equal((await at(page, 'garment')).some((one) => one.action === 'open'), false);
  await hands.tap(/Back$/);

  // First response, then steady signs for two hours and more.
  await hands.did('People', 'Obstetrician called');
  await hands.did('First', 'Womb massaged');
  await hands.tap('Gave');
  await hands.tap(/^Oxytocin 10 international units/);
  await hands.settle();
  await hands.tap('Move');
  await hands.tap('Hospital');
  await hands.tap(/Back$/);
  for (const name of ['Tone cause', 'Trauma cause', 'Tissue cause', 'Clotting cause']) {
    await hands.tap('Did');
    await hands.tap('Look');
    const group = page.getByRole('group', { name, exact: true });
    await group.getByRole('button', { name: name === 'Tone cause' ? 'Treated' : 'Excluded' }).tap();
    await page.waitForTimeout(150);
    await hands.tap(/Back$/);
  }
  await hands.did('First', 'Firm');
  await hands.tap('Did');
  await hands.tap('First');
  await hands.tap('None');
  await hands.tap(/Back$/);
  for (let i = 0; i < 11; i += 1) {
    await hands.later(14);
    await hands.vitals(88, 116, 72);
    if (i % 2 === 0) await hands.weighed(66, 60);
  }
  await hands.tap('Wrap');
  for (const finding of ['Line running', 'Clinician who may unwrap', 'Helper at the bedside']) await hands.tap(`${finding} yes`);
  await hands.settle();
  await hands.tap(/Back$/);
  await hands.later(1);
  await hands.vitals(88, 116, 72);
  await hands.tap('Wrap');
  await hands.settle();
  await hands.within('open a segment', async () => {
    await hands.tap(/^Ankle panels/);
    await hands.tap(/^Open ankle panels now/);
  });
  await hands.settle();
  // The core asks for a second person at an opening; the card then says only that.
  if (await card.isVisible()) {
    assert.match(await card.innerText(), /second person confirms/i, await card.innerText());
    await card.getByRole('button', { name: 'alone' }).tap();
    await card.getByRole('button', { name: 'Go on' }).tap();
    await hands.settle();
  }
  assert.equal((await at(page, 'garment')).filter((one) => one.action === 'open').length, 1);
  await hands.see(/not before/);
  await hands.look('opening');
  await page.locator('.sheet .scroll').evaluate((box) => box.scrollTo(0, box.scrollHeight));
  await hands.look('opening-below');
  const limits = await page.getByRole('region', { name: 'Wrap', exact: true }).first().innerText();
  assert.match(limits, /108/, 'pulse ceiling: 88 and 20');
  assert.match(limits, /96/, 'systolic floor: 116 less 20');
  await hands.tap(/Back$/);

  await hands.later(5);
  await hands.vitals(110, 94, 60);
  await hands.settle();
  await hands.see(/Close again at once/);
  await hands.look('bedside-relapse');
  await hands.tap('Wrap');
  await hands.within('close all again', async () => {
    await hands.tap('Close all again');
    await hands.look('close-again');
    await hands.tap(/^Now: /);
  });
  await hands.settle();
  const closes = (await at(page, 'garment')).filter((one) => one.action === 'close');
  assert.equal(closes.at(-1).segment, 'ankle');

  await hands.tap('Theatre planned');
  await hands.settle();
  await hands.tap('Knife to skin');
  await hands.settle();
  await hands.tap('Skin closed');
  await hands.settle();
  const surgery = (await at(page, 'surgery')).map((one) => one.state);
  assert.deepEqual(surgery, ['planned', 'knife_to_skin', 'closed']);
  await hands.tap(/Back$/);
  await hands.tap('Did');
  await hands.tap('More');
  await hands.tap('Recovered');
  await hands.settle();
  await hands.tap(/Back$/);
  await hands.see('Ended');
  await hands.look('ended');
  assert.deepEqual(faults, []);
  await context.close();
}

export const tests = [
  ['a first response, within its taps', firstResponse],
  ['a stop card holds, and lets on with a reason that is kept', stopCards],
  ['a unit of blood is read a second time, unseen', secondReading],
  ['every band put on at once, from the ankles up', allOnAtOnce],
  ['an odd dose is read by a second person', oddDose],
  ['a panel opened early needs a reason and a second person', openEarly],
  ['the usual ways of giving are one tap', presets],
  ['a garment put on, opened by rule, closed again, theatre', wrapped],
];
