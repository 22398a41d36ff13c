// A person's hands on the page: finds keys by their visible words, counts taps, and waits as a finger does.
import assert from 'node:assert/strict';
import { phone } from './ward.mjs';

// The most taps each task may take, from the bedside unless the task starts elsewhere. Tasks of screens that are not here
// yet (reading the story of a move, the next step of washing) join with them.
const budgets = {
  'start a case': 2,
  'core pair': 8,
  'full set of five': 14,
  'due step done': 1,
  'usual dose': 2,
  'odd dose with second check': 12,
  'loss by drape': 3,
  'back-time a row': 3,
  'take back': 1,
  'switch case': 2,
  'enter wrap': 1,
  'segment put on': 1,
  'open a segment': 2,
  'open early': 6,
  'close all again': 2,
  'correct a value': 7,
  'change person': 2,
  'open read-out': 2,
  'read-out step done': 1,
  'not now with its reason': 2,
  'show a hand-over code': 2,
  'read a hand-over code': 2, // and aiming
};
const walked = new Set();
export const notWalked = () => Object.keys(budgets).filter((task) => !walked.has(task));

const sameKeyPause = 270; // the page takes a quicker second touch of the same key for a bounce,
const samePlacePause = 420; // and one of another key in the same place for one that was not meant

export class Hands {
  constructor(page) {
    this.page = page;
    this.press = page.viewportSize().width === phone.width ? 'tap' : 'click';
    this.taps = 0;
    this.last = undefined;
  }

  /** Taps the key whose words are these (exact text or pattern). */
  async tap(name, { within, nth = 0 } = {}) {
    const card = this.page.getByRole('dialog'); // what lies on top takes every touch
    const place =
      within ? this.page.getByRole('region', { name: within, exact: true })
      : (await card.isVisible()) ? card
      : this.page;
    const key = place.getByRole('button', { name, exact: typeof name === 'string' }).nth(nth);
    const mark = `${within ?? ''} ${name} ${nth}`;
    await key.scrollIntoViewIfNeeded();
    const box = await key.boundingBox();
    const at = box && { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const samePlace = at && this.at && Math.hypot(at.x - this.at.x, at.y - this.at.y) < 24;
    if (mark === this.last) await this.page.waitForTimeout(sameKeyPause);
    else if (samePlace) await this.page.waitForTimeout(samePlacePause);
    this.last = mark;
    this.at = at;
    await key[this.press]();
    this.taps += 1;
  }

  /** Types the digits of a number, key by key. */
  async type(digits) {
    for (const digit of String(digits)) await this.tap(digit === '.' ? 'decimal point' : digit);
  }

  /** How many taps this took. */
  async count(act) {
    const before = this.taps;
    await act();
    return this.taps - before;
  }

  /** Does a task in no more taps than it may take. */
  async within(task, act) {
    const taps = await this.count(act);
    assert.ok(taps > 0 && taps <= budgets[task], `${task}: ${taps} taps, ${budgets[task]} allowed`);
    walked.add(task);
  }

  /** With SHOTS=FOLDER, a picture of what is on the screen now. */
  async look(name) {
    if (process.env.SHOTS) await this.page.screenshot({ path: `${process.env.SHOTS}/walk-${name}.png` });
  }

  see(text) {
    return this.page.getByText(text).first().waitFor();
  }

  /** The next answer after what was just done: the page holds still for 400 ms, then shows it. */
  settle() {
    return this.page.waitForTimeout(650);
  }

  async later(minutes) {
    await this.page.clock.fastForward(minutes * 60_000);
    await this.settle();
  }

  // What people do, as they do it.
  async start(bed = 'Bed 4') {
    await this.tap('+ Bleeding now');
    await this.tap(bed);
    await this.settle();
  }

  /** Makes a name one that is at hand. */
  async knows(page, name) {
    await this.tap('Vitals');
    await this.tap(/^Who:/);
    await this.tap('+ name');
    await page.getByRole('textbox', { name: 'Name' }).fill(name);
    await page.getByRole('button', { name: 'Add', exact: true }).tap();
    await this.tap(/^Who:/);
    await this.tap('someone here');
    await this.tap(/Back$/);
  }

  async vitals(...numbers) {
    await this.tap('Vitals');
    for (const number of numbers) await this.type(number);
    await this.tap(/^Save/);
    await this.page.locator('.sheet').waitFor({ state: 'detached' });
  }

  async did(tab, what) {
    await this.tap('Did');
    if (tab) await this.tap(tab);
    await this.tap(what);
    await this.page.getByRole('status').filter({ hasText: 'Saved' }).first().waitFor();
    await this.tap(/Back$/);
  }

  async weighed(wet, dry) {
    await this.tap('Loss');
    await this.tap('Weighed');
    await this.type(wet);
    if (String(wet).length < 5) await this.tap('Next');
    await this.type(dry);
    await this.tap(/^Save/);
    await this.page.locator('.sheet').waitFor({ state: 'detached' });
  }
}

/** Every entry that the page keeps, as NDJSON. */
export function entriesOf(page) {
  return page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const open = indexedDB.open('stanch');
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const all = open.result.transaction('entries').objectStore('entries').getAll();
          all.onsuccess = () => {
            open.result.close();
            resolve(all.result);
          };
        };
      }),
  );
}
