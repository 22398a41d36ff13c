// Every language says what English says: the same messages, the same arguments, the plural forms that the language has
// (Unicode CLDR, as the runtime's Intl.PluralRules tells them), and western digits.
import { IntlMessageFormat } from 'intl-messageformat';
import { afterEach, expect, test } from 'vitest';
import { westernDigits } from './digits.ts';
import { isolated, setRightToLeft, withoutMarks } from './isolate.ts';
import { preferred } from './language.ts';
import { message, say, sentence, speak } from './messages.ts';
import { withUnit } from './figures.ts';

type Catalogue = Record<string, string>;
type Part = { type: number; value?: string; options?: Record<string, { value: Part[] }> };

const shared = import.meta.glob<Catalogue>('../../../i18n/*.json', { eager: true, import: 'default' });
const page = import.meta.glob<Catalogue>('./*.json', { eager: true, import: 'default' });
const codeOf = (path: string) => /(\w+)\.json$/.exec(path)![1]!;
const codes = Object.keys(page).map(codeOf);
const [choice, plural] = [5, 6]; // of the parser's kinds of part

function read(parts: Part[], seen = { names: new Set<string>(), forms: [] as string[][] }) {
  for (const part of parts) {
    if (part.type !== 0 && part.type !== 7 && part.value !== undefined) seen.names.add(part.value);
    if (part.type === plural) seen.forms.push(Object.keys(part.options!));
    if (part.type === choice || part.type === plural) for (const option of Object.values(part.options!)) read(option.value, seen);
  }
  return seen;
}
const partsOf = (pattern: string, code: string) => read(new IntlMessageFormat(pattern, code, undefined, { ignoreTag: true }).getAst() as Part[]);

afterEach(() => {
  speak('en');
  setRightToLeft(false);
});

test('each language has both catalogues', () => {
  expect(codes.length).toBeGreaterThan(1);
  expect(Object.keys(shared).map(codeOf).sort()).toEqual([...codes].sort());
});

for (const [catalogues, name] of [[shared, 'answers'], [page, 'page']] as const) {
  const english = catalogues[Object.keys(catalogues).find((path) => path.endsWith('/en.json'))!]!;
  for (const [path, own] of Object.entries(catalogues)) {
    const code = codeOf(path);
    if (code === 'en') continue;
    test(`${name} in ${code}: the messages of English, with their arguments and the language's plural forms`, () => {
      expect(Object.keys(own).sort()).toEqual(Object.keys(english).sort());
      const needed = new Intl.PluralRules(code).resolvedOptions().pluralCategories;
      for (const [id, pattern] of Object.entries(own)) {
        const parts = partsOf(pattern, code);
        expect([...parts.names].sort(), id).toEqual([...partsOf(english[id]!, 'en').names].sort());
        for (const forms of parts.forms) {
          expect(forms, id).toContain('other');
          expect(forms.filter((form) => !/^=\d+$/.test(form) && !(needed as string[]).includes(form)), id).toEqual([]);
        }
        expect(westernDigits(pattern), id).toBe(pattern);
        expect(pattern.trim() === '', id).toBe(english[id]!.trim() === '');
        // The command line fills in names and knows no plurals.
        if (name === 'answers') expect(/^(?:[^{}]|\{\w+\})*$/.test(pattern), id).toBe(true);
      }
    });
  }
}

test('the language of a phone that has chosen none', () => {
  expect(preferred(['de-CH', 'fr-CA', 'en'])).toBe('fr');
  expect(preferred(['zh-Hans'])).toBe('en');
  expect(preferred([])).toBe('en');
});

test('a message that a language lacks is English', () => {
  speak('fr', { shared: {}, page: { back: 'Retour' } });
  expect(say('back')).toBe('Retour');
  expect(say('cases.title')).toBe('Cases');
  expect(message('name', 'help')).toBe('help');
});

test('numbers, units and names keep together in a line from the right', () => {
  speak('ar', { shared: { 'unit.mL': 'mL' }, page: { at: 'س {time}' } });
  setRightToLeft(true);
  expect(withUnit(500, 'mL')).toBe('\u2068500\u00a0mL\u2069');
  expect(say('at', { time: '08:05' })).toBe('س \u206808:05\u2069');
  expect(withoutMarks(say('at', { time: '08:05' }))).toBe('س 08:05');
  setRightToLeft(false);
  expect(isolated('Bed 4')).toBe('Bed 4');
  expect(isolated('أمل')).toBe('\u2068أمل\u2069');
});

test('plurals are chosen by the language and counted in western digits', () => {
  speak('ar', { shared: {}, page: { 'cases.late': '{n, plural, zero {z} one {o} two {t} few {f #} many {m #} other {x #}}' } });
  expect([0, 1, 2, 3, 11, 100].map((n) => say('cases.late', { n }))).toEqual(['z', 'o', 't', 'f 3', 'm 11', 'x 100']);
});

test('digits typed in other scripts', () => {
  expect(westernDigits('٤٢ ۴۲ ४२ B7')).toBe('42 42 42 B7');
});

test('a line starts with a capital, after marks of direction too', () => {
  expect(sentence('\u2068écho')).toBe('\u2068Écho');
  expect(sentence('तुरंत')).toBe('तुरंत');
});
