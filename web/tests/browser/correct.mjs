// A row is corrected from what it says: the pad that wrote it opens with everything chosen and filled in, so that only
// the wrong part is changed, and what was not touched stays as it was.
import assert from 'node:assert/strict';
import { check } from './access.mjs';
import { Hands, entriesOf } from './hands.mjs';
import { openPhone } from './ward.mjs';

const start = new Date('2031-05-06T08:00:00');
const standing = async (page, kind) => {
  const all = await entriesOf(page);
  const struck = new Set(all.map((one) => one.strikes).filter(Boolean));
  return all.filter((one) => one.kind === kind && !struck.has(one.id));
};

async function begin({ browser, ward }) {
  const phone = await openPhone(browser, ward, { enrol: false, clock: start });
  const { page } = phone;
  const hands = new Hands(page);
  await hands.start();
  const pressed = (name) => page.locator('.sheet').getByRole('button', { name, pressed: true });
  return {
    ...phone,
    hands,
    pressed,
    look: async (name) => {
      await hands.look(name);
      await check(page, name);
    },
    /** Opens the correction of a row, some minutes after it was written. */
    open: async (row) => {
      await hands.later(3);
      await page.locator('.past .row').filter({ hasText: row }).last().tap();
      await hands.tap('Correct the value');
      await page.locator('.sheet').waitFor();
    },
    saved: async (act) => {
      await act();
      await page.locator('.sheet').waitFor({ state: 'detached' });
      await hands.settle();
    },
    /** The one row of a kind that stands, told to have replaced `old` at its time. */
    replaced: async (old) => {
      const rows = await standing(page, old.kind);
      const row = rows.find((one) => one.strikes === old.id);
      assert.ok(row, `the ${old.kind} was replaced`);
      assert.deepEqual([row.at, row.note], [old.at, 'wrong value']);
      return row;
    },
    end: async () => {
      assert.deepEqual(phone.faults, []);
      await phone.context.close();
    },
  };
}

async function numbers(given) {
  const { page, hands, open, saved, replaced, look, end } = await begin(given);
  await hands.vitals(118, 84, 50);
  const [pair] = await standing(page, 'vitals');
  await open('Pulse 118');
  for (const field of ['Pulse 118', 'Systolic 84', 'Diast. 50']) await page.getByRole('button', { name: field, exact: true }).waitFor();
  await page.getByRole('button', { name: 'When: 08:00' }).waitFor();
  await hands.see('was 118');
  await look('correct-vitals');
  await hands.tap('Systolic 84');
  await hands.type(94);
  await saved(() => hands.tap('Save 118 · 94 · 50'));
  const mended = await replaced(pair);
  assert.deepEqual([mended.pulse, mended.sbp, mended.dbp], [118, 94, 50]);

  // What was measured on nobody goes away; what was not felt stays not felt.
  await open('Pulse 118');
  await hands.tap('Diast. 50');
  await hands.tap('delete one digit');
  await hands.tap('delete one digit');
  await hands.tap('Pulse 118');
  await hands.tap('Not felt');
  await saved(() => hands.tap('Save not found · 94'));
  const second = await replaced(mended);
  assert.deepEqual([second.pulse, second.sbp, second.dbp], ['unrecordable', 94, undefined]);
  await open('94');
  await page.getByRole('button', { name: 'Pulse not found', exact: true }).waitFor();
  await hands.tap('delete one digit');
  await saved(() => hands.tap('Save 94'));
  assert.equal('pulse' in (await replaced(second)), false);

  await hands.tap('Did');
  await hands.tap('More');
  await hands.tap('Blood results');
  await hands.type(95);
  await saved(() => hands.tap(/^Save \d/));
  const [lab] = await standing(page, 'lab');
  await open('haemoglobin');
  await page.getByRole('button', { name: 'Hb 95', exact: true }).waitFor();
  await hands.type(85);
  await saved(() => hands.tap('Save 85'));
  assert.equal((await replaced(lab)).hb_gl, 85);
  await end();
}

async function losses(given) {
  const { page, hands, pressed, open, saved, replaced, look, end } = await begin(given);
  await hands.tap('Loss');
  await hands.tap('+200');
  await hands.tap(/emptied/);
  await saved(() => hands.tap('Save +200 mL'));
  const [drape] = await standing(page, 'loss');
  await open('200 mL');
  await pressed('Drape').waitFor();
  await pressed(/emptied/).waitFor();
  await look('correct-loss');
  await hands.tap('Suction');
  await saved(() => hands.tap('Save +200 mL'));
  const sucked = await replaced(drape);
  assert.deepEqual([sucked.method, sucked.amount_ml, sucked.emptied], ['suction', 200, true]);
  await open('200 mL');
  await hands.tap('Other');
  await page.getByRole('button', { name: 'More by 200', exact: true }).waitFor();
  await hands.type(150);
  await saved(() => hands.tap('Save +150 mL'));
  assert.deepEqual([(await replaced(sucked)).method, (await replaced(sucked)).amount_ml], ['suction', 150]);

  await hands.weighed(420, 120);
  const weighed = (await standing(page, 'loss')).find((one) => one.method === 'weighed');
  await open('420');
  await pressed('Weighed').waitFor();
  await page.getByRole('button', { name: 'Wet 420', exact: true }).waitFor();
  await hands.tap('Dry 120');
  await hands.type(130);
  await saved(() => hands.tap(/^Save/));
  assert.deepEqual([(await replaced(weighed)).wet_g, (await replaced(weighed)).dry_g], [420, 130]);
  await end();
}

async function doses(given) {
  const { page, hands, pressed, open, saved, replaced, look, end } = await begin(given);
  await hands.tap('Gave');
  await saved(() => hands.tap(/^Oxytocin 10 international units/));
  const [ten] = await standing(page, 'drug');
  await open('oxytocin');
  await pressed('Oxytocin').waitFor();
  await pressed('into muscle').waitFor();
  await page.getByRole('button', { name: 'Dose 10', exact: true }).waitFor();
  await page.getByRole('button', { name: 'When: 08:00' }).waitFor();
  await look('correct-dose');
  // The amount first, then the way it was given: neither loses the other.
  await hands.type(7);
  await hands.tap('into muscle');
  await pressed('Into muscle').last().waitFor();
  await look('correct-route');
  await hands.tap('Slowly into a vein');
  await pressed('slowly into a vein').waitFor();
  await hands.tap(/^Save 7 international units/);
  const card = page.getByRole('dialog');
  await card.waitFor();
  if (await card.getByRole('button', { name: 'Already done' }).isVisible()) await hands.tap('Already done');
  if (await card.getByRole('button', { name: 'alone' }).isVisible()) await hands.tap('alone');
  await saved(() => hands.tap(/Go on|Record/));
  const seven = await replaced(ten);
  assert.deepEqual([seven.drug, seven.dose, seven.unit, seven.route, seven.use], ['oxytocin', 7, 'IU', 'iv_slow', 'treatment']);

  await hands.tap('Gave');
  await saved(() => hands.tap(/^Tranexamic acid 1 g/));
  const acid = (await standing(page, 'drug')).find((one) => one.drug === 'tranexamic_acid');
  await open('tranexamic');
  await pressed('slowly into a vein, in 10 mL over 10 min').waitFor();
  // Another thing than was written: the rows it was chosen from, with that row marked.
  await hands.tap('Tranexamic acid');
  await pressed(/^Tranexamic acid 1 g/).waitFor();
  await look('correct-drug');
  await hands.tap('Fluid');
  await saved(() => hands.tap(/^Sodium chloride/));
  assert.equal((await standing(page, 'drug')).some((one) => one.id === acid.id), false);
  const bag = (await standing(page, 'fluid')).find((one) => one.strikes === acid.id);
  assert.deepEqual([bag.fluid, bag.ml, bag.at], ['saline', 1000, acid.at]);
  await open('1000 mL');
  await pressed('Sodium chloride').waitFor();
  await page.getByRole('button', { name: 'Volume 1000', exact: true }).waitFor();
  await hands.type(500);
  await saved(() => hands.tap('Save 500 mL'));
  assert.deepEqual([(await replaced(bag)).ml, (await replaced(bag)).over_min], [500, 20]);
  await end();
}

async function deeds(given) {
  const { page, hands, pressed, open, saved, replaced, look, end } = await begin(given);
  await hands.did(undefined, 'Soft');
  const soft = (await standing(page, 'finding')).find((one) => one.what === 'tone');
  await open('soft');
  await pressed('Soft').waitFor();
  assert.equal(await pressed('Heavy bleeding seen').count(), 0, 'only what was written is chosen');
  await look('correct-finding');
  await saved(() => hands.tap('Firm'));
  assert.equal((await replaced(soft)).value, 'firm');

  await hands.did('Hold', 'Womb packed');
  const [packing] = await standing(page, 'manoeuvre');
  await open('Womb packed');
  await pressed(/^Womb packed/).waitFor();
  await saved(() => hands.tap(/^Balloon in/));
  assert.equal((await replaced(packing)).what, 'balloon_in');

  await hands.did('People', 'Obstetrician called');
  const [call] = await standing(page, 'call');
  await open('obstetrician');
  await pressed('Obstetrician called').waitFor();
  await saved(() => hands.tap('Obstetrician arrived'));
  assert.equal((await replaced(call)).state, 'arrived');
  await end();
}

async function words(given) {
  const { page, hands, pressed, open, saved, replaced, look, end } = await begin(given);
  await hands.vitals(126, 82);
  await hands.tap('Wrap');
  await hands.tap(/no number/);
  await hands.tap(/^Ankle panels/);
  await hands.settle();
  await hands.tap(/Back$/);
  const band = (await standing(page, 'garment')).find((one) => one.action === 'close');
  await open('ankle panels');
  await pressed('Ankle panels').waitFor();
  await pressed('Good').waitFor();
  await look('correct-garment');
  await hands.tap('Loose');
  await saved(() => hands.tap('Save'));
  const loose = await replaced(band);
  assert.deepEqual([loose.action, loose.segment, loose.tension], ['close', 'ankle', 'loose']);

  const [place] = await standing(page, 'place');
  await open('ward');
  await pressed('Ward').waitFor();
  await hands.tap('Theatre');
  await saved(() => hands.tap('Save'));
  assert.deepEqual([(await replaced(place)).where, (await replaced(place)).state], ['theatre', 'arrived']);
  await end();
}

async function theWoman(given) {
  const { page, hands, open, look, end } = await begin(given);
  await hands.tap(/^born|^started/);
  await hands.tap('Add');
  await hands.type(64);
  await hands.tap('Next');
  await hands.type(158);
  await hands.tap('Save', { nth: 0 });
  await hands.settle();
  await hands.tap(/Back$/);
  await open('64 kg');
  await page.getByRole('button', { name: 'Weight 64', exact: true }).waitFor();
  await page.getByRole('button', { name: 'Height 158', exact: true }).waitFor();
  await look('correct-woman');
  await hands.type(54);
  await hands.tap('Save', { nth: 0 });
  await hands.settle();
  const newest = (await standing(page, 'opened')).at(-1);
  assert.deepEqual([newest.weight_kg, newest.height_cm], [54, undefined], 'only what changed is told anew');
  await end();
}

export const tests = [
  ['numbers are corrected from what was written', numbers],
  ['a loss is corrected from what was written', losses],
  ['a dose, its way and its drug are corrected one by one', doses],
  ['what was done, seen and called is corrected from what was written', deeds],
  ['rows of the garment and of a move are corrected word by word', words],
  ['what is known of the woman is corrected from what was told', theWoman],
];
