// Finds what is on the screen by the words of one language, as a person who reads that language does.
import { readFileSync } from 'node:fs';
import { Hands } from './hands.mjs';
import { english } from './pseudo.mjs';

const file = (path) => JSON.parse(readFileSync(new URL(path, import.meta.url), 'utf8'));
export const catalogues = (code) =>
  code === 'en' ? english : { shared: file(`../../../i18n/${code}.json`), page: file(`../../src/words/${code}.json`) };

const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');

export class Speaker extends Hands {
  constructor(page, words) {
    super(page);
    this.words = words;
  }

  /** A message as a pattern: whatever stands in for its arguments, with a capital or not. */
  said(id, from = 'page') {
    const text = this.words[from][id];
    if (text === undefined) throw new Error(`no message ${id}`);
    const pattern = text.split(/\{[^{}]*\}/).map(escaped).join('.*');
    return new RegExp(`^${pattern.replace(/^\p{Ll}/u, (first) => `[${first}${first.toUpperCase()}]`)}$`);
  }

  say(id, more) {
    return this.tap(this.said(id), more);
  }

  name(id, more) {
    return this.tap(this.said(`name.${id}`, 'shared'), more);
  }

  async back() {
    await this.page.locator('.sheet:visible .back').first()[this.press]();
    await this.page.waitForTimeout(60);
  }

  /** Types a number, key by key. */
  async type(number) {
    for (const digit of String(number)) await (digit === '.' ? this.say('pad.point') : this.tap(digit));
  }
}
