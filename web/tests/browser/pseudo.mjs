// Languages made up for tests, from the English catalogues: accents, two parts in five longer, in brackets; and one in Arabic
// letters, read from the right. Whatever shows without brackets never went through a catalogue.
import { readFileSync } from 'node:fs';

export const english = {
  shared: JSON.parse(readFileSync(new URL('../../../i18n/en.json', import.meta.url), 'utf8')),
  page: JSON.parse(readFileSync(new URL('../../src/words/en.json', import.meta.url), 'utf8')),
};

/** Signs of units, the same in every language. */
export const signs = new Set(['mL', 'mL/h', 'mL/kg', 'g', 'mg', 'kg', 'g/L', 'cm', 'mm', 'mmHg', 'mmol/L', 'min', '/min', 'h', 'd', 's', 'ms', 'x 10^9/L']);

const accents = Object.fromEntries([...'aáeéiíoóuúyýAÁEÉIÍOÓUÚnñcçsšzžlłrřdďgğhĥkķtťwŵ'.matchAll(/(.)(.)/gu)].map(([, plain, with_]) => [plain, with_]));
const latin = 'abcdefghijklmnopqrstuvwxyz';
const arabic = 'ابجدهوزحطيكلمنسعفصقرشتثخذض';

const letters = {
  accented: (text) => text.replace(/[A-Za-z]/g, (letter) => accents[letter] ?? letter),
  arabic: (text) => text.replace(/[A-Za-z]/g, (letter) => arabic[latin.indexOf(letter.toLowerCase())]),
};

/** Changes what is read in a message, not its arguments, plurals and quotes. */
function inWords(pattern, change) {
  let out = '';
  for (let i = 0; i < pattern.length; ) {
    if (pattern[i] !== '{') {
      const end = pattern.indexOf('{', i) < 0 ? pattern.length : pattern.indexOf('{', i);
      out += change(pattern.slice(i, end));
      i = end;
      continue;
    }
    let depth = 0;
    let end = i;
    do {
      if (pattern[end] === '{') depth += 1;
      if (pattern[end] === '}') depth -= 1;
      end += 1;
    } while (depth > 0);
    const argument = pattern.slice(i, end);
    const choice = /^\{\s*\w+\s*,\s*\w+\s*,/.exec(argument)?.[0];
    out += choice ? choice + inForms(argument.slice(choice.length, -1), change) + '}' : argument;
    i = end;
  }
  return out;
}

/** "one {...} other {...}": the names of the forms stay. */
function inForms(forms, change) {
  let out = '';
  let depth = 0;
  let from = 0;
  for (let i = 0; i < forms.length; i += 1) {
    if (forms[i] === '{' && depth++ === 0) {
      out += forms.slice(from, i + 1);
      from = i + 1;
    }
    if (forms[i] === '}' && --depth === 0) {
      out += inWords(forms.slice(from, i), change);
      from = i;
    }
  }
  return out + forms.slice(from);
}

const filler = 'lorem ipsum dolor amet '; // as long as a translation may be
function longer(pattern) {
  const more = Math.ceil(0.4 * pattern.replace(/\{[^{}]*\}/g, '').length);
  return more < 2 ? '' : ` ${filler.repeat(Math.ceil(more / filler.length)).slice(0, more - 1).trim()}`;
}

function made(messages, change) {
  const one = (pattern) => {
    if (signs.has(pattern) || !/[A-Za-z]/.test(pattern.replace(/\{[^{}]*\}/g, ''))) return pattern;
    return `⟦${inWords(pattern, change)}${change(longer(pattern))}⟧`;
  };
  return Object.fromEntries(Object.entries(messages).map(([id, pattern]) => [id, one(pattern)]));
}

const language = (change) => ({ shared: made(english.shared, change), page: made(english.page, change) });
export const accented = language(letters.accented);
export const fromTheRight = language(letters.arabic);
