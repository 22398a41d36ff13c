// A case goes from one phone to another by the hand-over code, with no network and no server: the symbols on the first
// phone's screen are photographed, and the second reads the photos.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encode } from 'uqr';
import { check } from './access.mjs';
import { startFront } from './front.mjs';
import { Hands, entriesOf } from './hands.mjs';
import { command, desk, dist, openBrowser, openPhone, phone } from './ward.mjs';

const bands = ['Ankle panels', 'Calf panels', 'Thigh panels', 'Pelvis panel', 'Belly ball panel', 'Belly closing panel'];

/** A phone that has opened the page once, and from then on has no network. */
async function offlinePhone(browser, address, options = {}) {
  const opened = await openPhone(browser, { address }, { enrol: false, serviceWorkers: 'allow', ...options });
  await opened.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await opened.page.reload();
  await opened.context.setOffline(true);
  await opened.page.reload();
  return { ...opened, hands: new Hands(opened.page) };
}

async function offlineWard() {
  const front = await startFront(dist, () => 9); // nothing answers there
  return { front, address: `http://127.0.0.1:${front.port}/` };
}

/** The call of the real core. */
function core(request) {
  const { stdout, stderr } = spawnSync(command, ['call'], { input: JSON.stringify(request) });
  const answer = JSON.parse(String(stdout));
  assert.equal(answer.problems, undefined, String(stderr));
  return answer;
}

/** A photo of a symbol with any text, drawn as the page draws it. */
async function photoOf(browser, text) {
  const { data, size } = encode(text, { ecc: 'M', border: 4 });
  const rects = data.flatMap((row, y) => row.map((dark, x) => (dark ? `<rect x="${x}" y="${y}" width="1" height="1"/>` : '')));
  const page = await browser.newPage({ viewport: { width: size * 4, height: size * 4 } });
  await page.setContent(`<body style="margin:0"><svg width="${size * 4}" viewBox="0 0 ${size} ${size}" shape-rendering="crispEdges">${rects.join('')}</svg>`);
  const buffer = await page.screenshot();
  await page.close();
  return buffer;
}

const file = (buffer, name) => ({ name, mimeType: 'image/png', buffer });

/** What stands on the screen of the first phone, symbol by symbol. */
async function photographed({ page, hands }) {
  const photos = [];
  const picture = page.getByRole('img', { name: /^Symbol 1 of/ });
  await picture.waitFor();
  const of = Number(/of (\d)/.exec(await picture.getAttribute('aria-label'))[1]);
  for (let n = 1; n <= of; n += 1) {
    await page.getByRole('img', { name: `Symbol ${n} of ${of}`, exact: false }).waitFor();
    photos.push(await page.screenshot());
    if (of > 1) await hands.tap('Next symbol');
  }
  return photos;
}

async function choose(page, ...photos) {
  await page.locator('input[type=file]').setInputFiles(photos.map((photo, i) => file(photo, `photo-${i}.png`)));
}

async function wrapped(from) {
  const { page, hands } = from;
  await hands.start('Bed 4');
  await hands.tap(/^born|^started/);
  await hands.tap('15 min ago');
  await hands.tap(/Back$/);
  for (let i = 0; i < 12; i += 1) await hands.vitals(126 - i, 82 + i, 50); // more than one symbol holds
  await hands.tap('Wrap');
  await hands.tap(/no number/);
  for (const band of bands) {
    await hands.tap(new RegExp(`^${band}`));
    await page.waitForTimeout(300);
  }
  await hands.settle();
  await hands.tap(/Back$/);
}

async function openReader(to) {
  await to.hands.tap('Read a hand-over code');
  await to.page.getByText('No camera can be used here').waitFor();
}

async function handedOver({ browser }) {
  const { front, address } = await offlineWard();
  const one = await offlinePhone(browser, address);
  const two = await offlinePhone(browser, address);
  await wrapped(one);
  await one.hands.within('show a hand-over code', async () => {
    await one.hands.tap('Move');
    await one.hands.tap('Show the hand-over code');
  });
  const photos = await photographed(one);
  assert.ok(photos.length >= 2 && photos.length <= 3, `${photos.length} symbols`);
  if (process.env.SHOTS) await one.page.screenshot({ path: `${process.env.SHOTS}/slip-three.png` });
  await check(one.page, 'the hand-over code');

  // In any order; what is still missing is named.
  await openReader(two);
  await check(two.page, 'reading a code');
  await choose(two.page, photos.at(-1));
  await two.hands.see(`Read 1 of ${photos.length}.`);
  assert.deepEqual(await entriesOf(two.page), [], 'nothing is taken before a person says so');
  await choose(two.page, ...photos.slice(0, -1));
  await two.hands.see('Its key is not known on this phone');
  await check(two.page, 'a code that was read');
  assert.deepEqual(await entriesOf(two.page), [], 'nothing is taken before a person says so');
  await two.hands.tap('Leave it');
  await two.page.getByRole('button', { name: 'Choose photos' }).waitFor();
  assert.deepEqual(await entriesOf(two.page), [], 'nothing is taken from a code that was left');
  await choose(two.page, ...photos);
  await two.hands.tap('Take her over all the same');
  await two.page.waitForURL(/#\/case\//);

  const byId = (a, b) => (a.id < b.id ? -1 : 1);
  const [sent, got] = [(await entriesOf(one.page)).sort(byId), (await entriesOf(two.page)).sort(byId)];
  assert.deepEqual(got, sent, 'every entry, as it was written');
  await two.hands.see(`${got.length} to send`); // they wait for a server of the second phone's ward

  // Reading it again adds nothing, and the unwrapping goes on by the limits of the whole case.
  await two.hands.tap('Wrap');
  await two.hands.settle();
  const limits = async (of) => (await of.page.locator('.sheet .conditions').allInnerTexts()).join('\n');
  await one.hands.tap(/Back$/);
  await one.hands.tap('Wrap');
  await one.hands.settle();
  assert.ok((await limits(two)).length > 0);
  assert.equal(await limits(two), await limits(one));
  const card = two.page.getByRole('dialog');
  await two.hands.tap(/^Ankle panels/);
  await two.hands.tap(/^Open ankle panels now/);
  await card.waitFor();
  assert.match(await card.innerText(), /Keep ankle panels closed/);
  assert.match(await card.innerText(), /GR-\d/, 'the rule is named');
  await card.getByRole('button', { name: 'Keep it closed' }).tap();
  await two.hands.settle();
  await two.hands.tap(/^Back|Back$/);
  await two.hands.vitals(88, 116, 72);
  assert.equal((await entriesOf(two.page)).length, got.length + 1);
  await two.page.reload();
  await two.hands.within('read a hand-over code', async () => {
    await two.hands.tap(/^Cases/);
    await two.hands.tap('Read a hand-over code');
  });
  await choose(two.page, ...photos);
  await two.hands.see('Nothing in it is new');
  await two.hands.tap('Open her case');
  await two.page.waitForURL(/#\/case\//);
  assert.equal((await entriesOf(two.page)).length, got.length + 1);
  assert.deepEqual([...one.faults, ...two.faults], []);
  await one.context.close();
  await two.context.close();
  front.close();
}

async function keysAndForgeries({ browser }) {
  const { front, address } = await offlineWard();
  const one = await offlinePhone(browser, address);
  const two = await offlinePhone(browser, address);
  await one.hands.start('Bed 4');
  await one.hands.vitals(118, 84);
  await one.hands.tap('Move');
  await one.hands.tap('Show the hand-over code');
  const photos = await photographed(one);

  // The second phone learns the first one's key, from its screen as well.
  await one.hands.tap("This phone's key");
  await one.page.getByRole('img', { name: "This phone's key" }).waitFor();
  await check(one.page, "a phone's key");
  const keyPhoto = await one.page.screenshot();
  await openReader(two);
  await choose(two.page, keyPhoto);
  const thumbprint = await one.page.locator('.thumbprint').innerText();
  await two.hands.see(thumbprint);
  await check(two.page, 'a key that was read');
  await two.hands.tap('Keep this key');
  await two.hands.see('The key is kept');
  await choose(two.page, keyPhoto);
  await two.hands.see('knows that key already');

  // Somebody else's signature under that key's name.
  const key = await one.page.evaluate(
    () =>
      new Promise((resolve) => {
        indexedDB.open('stanch').onsuccess = (open) => {
          const get = open.target.result.transaction('settings').objectStore('settings').get('slip_key');
          get.onsuccess = () => crypto.subtle.exportKey('jwk', get.result.publicKey).then(({ kty, crv, x, y }) => resolve({ kty, crv, x, y }));
        };
      }),
  );
  const entries = (await entriesOf(one.page)).map((entry) => (entry.kind === 'vitals' ? { ...entry, id: entry.id.slice(0, -12) + randomUUID().slice(-12), pulse: 60 } : entry));
  const draft = core({ do: 'slip_draft', entries, now: new Date().toISOString(), key, sender: 'Fennel Row', author: 'S. Orin' });
  const forger = await crypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-256' }, false, ['sign']);
  const bytes = await crypto.subtle.sign({ name: 'ECDSA', hash: 'SHA-256' }, forger.privateKey, Buffer.from(draft.signing_input));
  const forged = core({ do: 'slip_symbols', signing_input: draft.signing_input, signature: Buffer.from(bytes).toString('base64url') });
  const alert = two.page.getByRole('alert').filter({ hasText: /\S/ });
  await choose(two.page, ...(await Promise.all(forged.symbols.map((text) => photoOf(browser, text)))));
  await alert.getByText('Refused: the signature is wrong.').waitFor();
  assert.equal(await two.page.getByRole('button', { name: /^Take her over/ }).count(), 0);

  // A symbol that was read, but not as it was made; a photo with half of it covered; a file that is no photo.
  const text = forged.symbols[0];
  await choose(two.page, await photoOf(browser, text.slice(0, -1) + (text.endsWith('0') ? '1' : '0')));
  await alert.waitFor();
  const sentence = await alert.innerText();
  assert.doesNotMatch(sentence, /Refused: the signature/);
  assert.equal(sentence, 'Field slip.symbol.checksum is wrong; allowed is that of its text: read it again.');
  await one.hands.tap('Back to the code');
  await one.page.getByRole('img', { name: /^Symbol/ }).waitFor();
  await one.page.evaluate(() => document.querySelector('.symbol').style.setProperty('clip-path', 'inset(0 50% 0 0)'));
  await choose(two.page, await one.page.screenshot());
  await alert.getByText('No code can be read in this photo.').waitFor();
  await choose(two.page, Buffer.from('not a picture'));
  await alert.getByText('is not a photo that this phone can open').waitFor();
  await choose(two.page, await photoOf(browser, 'a shopping list'));
  await alert.getByText('This symbol is no hand-over code.').waitFor();
  assert.deepEqual(await entriesOf(two.page), []);

  // Practice never gets into a real record, whoever signed it.
  const { kty, crv, x, y } = await crypto.subtle.exportKey('jwk', forger.publicKey);
  const lesson = core({ do: 'slip_draft', entries, now: new Date().toISOString(), key: { kty, crv, x, y }, sender: 'Fennel Row', author: 'S. Orin', practice: true });
  const theirs = await crypto.subtle.sign({ name: 'ECDSA', hash: 'SHA-256' }, forger.privateKey, Buffer.from(lesson.signing_input));
  const practised = core({ do: 'slip_symbols', signing_input: lesson.signing_input, signature: Buffer.from(theirs).toString('base64url') });
  await choose(two.page, ...(await Promise.all(practised.symbols.map((text) => photoOf(browser, text)))));
  await alert.getByText('This code is practice, and this phone keeps real records: nothing of it is taken.').waitFor();
  assert.equal(await two.page.getByRole('button', { name: /^Take her over/ }).count(), 0);
  assert.deepEqual(await entriesOf(two.page), []);

  // The right one, whose key is known by now.
  await choose(two.page, ...photos);
  await two.hands.see('its key is known here');
  await two.hands.tap('Take her over');
  await two.page.waitForURL(/#\/case\//);
  assert.equal((await entriesOf(two.page)).length, (await entriesOf(one.page)).length);
  assert.deepEqual([...one.faults, ...two.faults], []);
  await one.context.close();
  await two.context.close();
  front.close();
}

/** The browser's made camera sees the first phone's screen. */
async function byCamera({ browser }) {
  const { front, address } = await offlineWard();
  const one = await offlinePhone(browser, address);
  await one.hands.start('Bed 4');
  await one.hands.vitals(118, 84);
  await one.hands.tap('Move');
  await one.hands.tap('Show the hand-over code');
  await one.page.getByRole('img', { name: 'Symbol 1 of 1' }).waitFor();
  const folder = mkdtempSync(join(tmpdir(), 'stanch-camera-'));
  const film = join(folder, 'seen.mjpeg');
  writeFileSync(film, await one.page.screenshot({ type: 'jpeg', quality: 90 }));
  const seeing = await openBrowser('--use-fake-ui-for-media-stream', '--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`);
  try {
    const two = await offlinePhone(seeing, address);
    await two.hands.tap('Read a hand-over code');
    await two.hands.tap('Take her over all the same');
    await two.page.waitForURL(/#\/case\//);
    assert.equal((await entriesOf(two.page)).length, (await entriesOf(one.page)).length);
    await two.hands.tap(/^Cases/);
    await two.hands.tap('Read a hand-over code');
    await two.hands.see('Nothing in it is new');
    if (process.env.SHOTS) await two.page.screenshot({ path: `${process.env.SHOTS}/slip-camera-asked.png` });
    await two.hands.tap('Leave it');
    await two.page.locator('video').waitFor();
    await two.page.waitForTimeout(1500);
    assert.equal(await two.page.getByRole('button', { name: 'Leave it' }).count(), 0, 'what was left is not asked about again');
    if (process.env.SHOTS) await two.page.screenshot({ path: `${process.env.SHOTS}/slip-camera.png` });
    assert.deepEqual([...one.faults, ...two.faults], []);
  } finally {
    await seeing.close();
    rmSync(folder, { recursive: true, force: true });
  }
  await one.context.close();
  front.close();
}

async function looks({ browser }, size, theme) {
  const { front, address } = await offlineWard();
  const one = await offlinePhone(browser, address, { size, theme });
  const look = async (name) => {
    await one.page.waitForTimeout(200);
    if (process.env.SHOTS) await one.page.screenshot({ path: `${process.env.SHOTS}/slip-${size.width}-${theme}-${name}.png` });
    await check(one.page, `${size.width} ${theme} ${name}`);
  };
  await one.hands.start('Bed 4');
  await one.hands.settle();
  await one.hands.tap('Move');
  await look('move');
  await one.hands.tap('Show the hand-over code');
  const photos = await photographed(one);
  await look('code');
  await one.hands.tap("This phone's key");
  await look('key');
  const key = await one.page.screenshot();
  await one.hands.tap(/Back$/);
  await one.hands.tap(/^Cases/);
  await look('cases');
  const two = await offlinePhone(browser, address, { size, theme });
  await openReader(two);
  one.page = two.page;
  await look('read');
  await choose(two.page, Buffer.from('not a picture'));
  await look('read-fault');
  await choose(two.page, key);
  await two.page.getByRole('button', { name: 'Keep this key' }).waitFor();
  await look('read-key');
  await two.hands.tap('Leave it');
  await choose(two.page, ...photos);
  await two.page.getByRole('button', { name: /^Take her over/ }).waitFor();
  await look('read-whole');
  await one.context.close();
  await two.context.close();
  front.close();
}

export const tests = [
  ['handed over', handedOver],
  ['by camera', byCamera],
  ['keys and forgeries', keysAndForgeries],
  ['looks on a phone by day', (with_) => looks(with_, phone, 'light')],
  ['looks on a phone by night', (with_) => looks(with_, phone, 'dark')],
  ['looks at a desk by day', (with_) => looks(with_, desk, 'light')],
  ['looks at a desk by night', (with_) => looks(with_, desk, 'dark')],
];
