// Two phones and a real server: entries reach the other phone live, survive the server's death, and go out later.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hands, entriesOf } from './hands.mjs';
import { command, openPhone } from './ward.mjs';

const mark = (page) => page.locator('.link-mark').first();
const reaches = (page, pattern, patience = 20_000) =>
  page.waitForFunction(
    (source) => new RegExp(source).test(document.querySelector('.link-mark')?.textContent ?? ''),
    pattern.source,
    { timeout: patience },
  );

async function live({ browser, ward }) {
  const one = await openPhone(browser, ward);
  const two = await openPhone(browser, ward);
  await reaches(one.page, /in step/);
  await reaches(two.page, /in step/);
  const [first, second] = [new Hands(one.page), new Hands(two.page)];
  await first.start('Bed 6');
  await two.page.getByRole('button', { name: /Bed 6/ }).waitFor();
  await two.page.waitForTimeout(700);
  await second.tap(/Bed 6/);
  await second.settle();
  await first.vitals(118, 84);
  await two.page.getByText(/Pulse 118/).waitFor();
  await second.vitals(124, 82);
  await one.page.getByText(/Pulse 124/).waitFor();
  await reaches(one.page, /in step/);

  // The record as the server hands it out, judged by the command, is what the page's own core says of it.
  const id = /case\/([^/]+)/.exec(one.page.url())[1];
  const token = await one.page.evaluate(
    () =>
      new Promise((resolve) => {
        const open = indexedDB.open('stanch');
        open.onsuccess = () => {
          const read = open.result.transaction('settings').objectStore('settings').get('token');
          read.onsuccess = () => resolve(read.result);
        };
      }),
  );
  const answer = await fetch(`http://127.0.0.1:${ward.port}/api/cases/${id}.ndjson`, { headers: { Authorization: `Bearer ${token}` } });
  assert.equal(answer.status, 200);
  const lines = await answer.text();
  const now = new Date(Date.now() + 1000).toISOString();
  const folder = mkdtempSync(join(tmpdir(), 'stanch-case-'));
  writeFileSync(join(folder, 'case.ndjson'), lines);
  const native = spawnSync(command, ['case', join(folder, 'case.ndjson'), '--at', now, '--json'], { encoding: 'utf8' });
  rmSync(folder, { recursive: true });
  const entries = (await entriesOf(one.page)).filter((entry) => entry.case === id);
  assert.equal(lines.trim().split('\n').length, entries.length);
  const fromPage = await one.page.evaluate(
    ([request]) => {
      const url = performance.getEntriesByType('resource').map((row) => row.name).find((name) => /worker.*\.js$/.test(name));
      const worker = new Worker(url, { type: 'module' });
      worker.postMessage({ id: 1, request });
      return new Promise((resolve) => worker.addEventListener('message', (event) => resolve(event.data.answer)));
    },
    [JSON.stringify({ do: 'advise', entries, now })],
  );
  assert.equal(fromPage, native.stdout.trimEnd());
  assert.deepEqual([...one.faults, ...two.faults], []);
  await one.context.close();
  await two.context.close();
}

async function outage({ browser, ward }) {
  const one = await openPhone(browser, ward);
  await reaches(one.page, /in step/);
  const hands = new Hands(one.page);
  await hands.start('Bed 3');
  await reaches(one.page, /in step/);
  await ward.kill();
  await hands.vitals(118, 84);
  await hands.vitals(120, 82);
  await reaches(one.page, /kept on this phone, 2 to send/);
  await hands.see('in shock');
  await ward.start();
  await reaches(one.page, /in step/, 60_000);
  const two = await openPhone(browser, ward);
  await two.page.getByRole('button', { name: /Bed 3/ }).waitFor();
  await two.page.waitForTimeout(700);
  await new Hands(two.page).tap(/Bed 3/);
  await two.page.getByText(/Pulse 120/).first().waitFor();
  const sent = await entriesOf(two.page);
  assert.equal(sent.filter((entry) => entry.kind === 'vitals').length, 2, 'both, each once');
  assert.deepEqual(one.faults, []);
  await one.context.close();
  await two.context.close();
}

async function joins({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward, { enrol: false });
  const hands = new Hands(page);
  await hands.start('Bed 1');
  await hands.tap(/^Cases/);
  assert.match(await mark(page).innerText(), /kept on this phone, 4 to send/, 'recording never waits for joining');
  await mark(page).tap();
  const code = page.getByRole('textbox');
  await code.fill('000000');
  await hands.tap('Join');
  await page.waitForFunction(() => (document.querySelector('.plain [role=alert]')?.textContent ?? '').length > 10);
  await code.fill(ward.code);
  await hands.tap('Join');
  await page.getByText(/joined to the ward/).waitFor();
  await page.getByText('in step').first().waitFor({ timeout: 20_000 });
  await context.close();
}

async function practiceFrame({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward);
  await page.getByText('PRACTICE', { exact: true }).waitFor();
  assert.match(await page.locator('#page').evaluate((frame) => getComputedStyle(frame).borderStyle), /dashed/);
  const hands = new Hands(page);
  await page.waitForTimeout(700);
  await page.locator('.card').first().tap();
  await page.getByText('PRACTICE', { exact: true }).waitFor();
  await hands.tap('Course');
  await page.getByText('PRACTICE', { exact: true }).waitFor();
  await context.close();
}

/** The record at this address is gone, and another one answers there. */
async function replaced(ward, ...flags) {
  await ward.kill();
  for (const file of readdirSync(ward.folder)) rmSync(join(ward.folder, file), { recursive: true });
  ward.flags = flags;
  await ward.start();
}

const healthOf = async (ward) => (await fetch(`http://127.0.0.1:${ward.port}/health`)).json();

async function joinAgain(page, ward) {
  await page.getByRole('textbox').fill(ward.code);
  await page.getByRole('button', { name: 'Join', exact: true }).tap();
  await page.getByText('in step').first().waitFor({ timeout: 20_000 });
}

async function anew({ browser, ward }) {
  const { page, context, faults } = await openPhone(browser, ward);
  const hands = new Hands(page);
  await reaches(page, /in step/);
  await hands.start('Bed 5');
  await hands.vitals(96, 110);
  await reaches(page, /in step/);
  const kept = (await entriesOf(page)).length;
  assert.equal((await healthOf(ward)).entries, kept);
  await replaced(ward);
  await hands.tap(/^Cases/);
  await reaches(page, new RegExp(`kept on this phone, ${kept} to send`), 60_000);
  await mark(page).tap();
  await joinAgain(page, ward);
  for (let tries = 0; tries < 50 && (await healthOf(ward)).entries < kept; tries += 1) await page.waitForTimeout(100);
  assert.equal((await healthOf(ward)).entries, kept, 'the new record holds all that the phone holds');
  assert.deepEqual(faults, []);
  await context.close();
}

async function apart({ browser, ward }) {
  const { page, context } = await openPhone(browser, ward);
  await page.locator('.card').first().waitFor();
  await replaced(ward);
  await mark(page).tap();
  await page.getByText('kept apart: this phone holds practice, and the server a real ward').first().waitFor({ timeout: 60_000 });
  await page.getByText('PRACTICE', { exact: true }).waitFor();
  assert.equal((await healthOf(ward)).entries, 0, 'no practice in a real ward');
  await context.close();
}

async function conflict({ browser, ward }) {
  const { page, context, faults } = await openPhone(browser, ward);
  const hands = new Hands(page);
  await reaches(page, /in step/);
  await hands.start('Bed 7');
  await reaches(page, /in step/);
  const [opened] = (await entriesOf(page)).filter((entry) => entry.kind === 'opened');
  const join = await fetch(`${ward.address}api/enrol`, { method: 'POST', body: JSON.stringify({ code: ward.code, device: 'another' }) });
  const { token } = await join.json();
  const at = new Date(Date.now() - 60_000).toISOString();
  const reading = { id: '01890000-0000-7000-8000-000000000001', case: opened.case, at, written: at, by: 'T. Vell', from: 'another', kind: 'vitals' };
  const body = [101, 131].map((pulse) => JSON.stringify({ ...reading, pulse, sbp: 100 })).join('\n');
  const sent = await fetch(`${ward.address}api/entries`, { method: 'POST', body, headers: { Authorization: `Bearer ${token}` } });
  assert.equal((await sent.json()).conflicts.length, 1);
  await page.getByText(/Pulse 101/).first().waitFor();
  await page.getByText(/Pulse 131/).first().waitFor();
  await page.reload();
  await page.getByText(/Pulse 101/).first().waitFor();
  await page.getByText(/Pulse 131/).first().waitFor();
  assert.deepEqual(faults, []);
  await context.close();
}

export const tests = [
  ['two phones see each other’s entries live, and the case judged elsewhere gives the same bytes', live],
  ['the server dies: entries are kept and sent later', outage],
  ['a phone joins by a typed code, and a wrong code is told', joins],
  ['another record at the same address is sent all that the phone holds', anew],
  ['practice and a real ward at one address stay apart', apart, '--practice'],
  ['two versions of one entry are both kept and shown', conflict],
  ['practice is framed on every screen', practiceFrame, '--practice'],
];
