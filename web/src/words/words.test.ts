import { expect, test } from 'vitest';
import { clockText, figure, sinceText, spanText, withUnit } from './figures.ts';
import { dueText, reasonText } from './adviceText.ts';
import { message, nameOf, say } from './messages.ts';
import own from './en.json';

test('numbers have a leading zero, no trailing ones, and thin groups from 10 000', () => {
  expect(figure(0.5)).toBe('0.5');
  expect(figure(1)).toBe('1');
  expect(figure(1.1)).toBe('1.1');
  expect(figure(1500)).toBe('1500');
  expect(figure(12500)).toBe('12\u202f500');
  expect(withUnit(10, 'IU')).toBe('10\u00a0international units');
  expect(withUnit(1, 'IU')).toBe('1\u00a0international unit');
  expect(withUnit(100, 'ug')).toBe('100\u00a0micrograms');
});

test('spans and clocks', () => {
  expect(spanText(59_000)).toBe('0\u00a0min');
  expect(spanText(80 * 60_000)).toBe('1 h 20 min');
  expect(sinceText(22 * 60_000)).toBe('0:22');
  expect(clockText(new Date(2031, 4, 6, 8, 5).getTime(), new Date(2031, 4, 6, 9).getTime())).toBe('08:05');
  expect(clockText(new Date(2031, 4, 5, 8, 5).getTime(), new Date(2031, 4, 6, 9).getTime())).toBe('5 May 08:05');
});

test('names put together by the core', () => {
  expect(nameOf('belly_close+belly_ball')).toBe(`${nameOf('belly_close')} and ${nameOf('belly_ball')}`);
  expect(nameOf('AB+')).toBe('AB+');
  expect(nameOf('allergy:oxytocin')).toBe('allergy to oxytocin');
  expect(nameOf('facility:fennel_row')).toBe('Fennel Row');
  expect(message('due', 'no_such_act')).toBe('no such act');
});

test('a due row and a reason read as the command line writes them', () => {
  expect(
    dueText({ id: 'give_uterotonic', about: 'oxytocin', priority: 'high', standing: 'due', reasons: [], arguments: { dose: 20, unit: 'IU', route: 'iv_infusion' } }),
  ).toBe('Give oxytocin 20 international units, as an infusion into a vein');
  expect(
    reasonText(
      { id: 'loss_alone', rule: 'TRIG-1', seen: 700, limit: { id: 'x', value: 500, compare: '>=', unit: 'mL', status: 'read' } },
      Date.now(),
    ),
  ).toBe('Loss: 700\u00a0mL; limit at least 500\u00a0mL');
});

test('every word that a screen names is there', () => {
  const sources = import.meta.glob<string>('../**/*.{ts,tsx}', { query: '?raw', import: 'default', eager: true });
  const named = Object.values(sources).flatMap((source) => [...source.matchAll(/\bsay\(\s*'([^']+)'/g)].map((found) => found[1]!));
  expect(named.length).toBeGreaterThan(100);
  expect(named.filter((id) => !(id in own))).toEqual([]);
});

test('every message of the page can be filled', () => {
  for (const id of Object.keys(own)) expect(say(id, { n: 2 }), id).not.toContain('{');
});

test('a message of names only is filled as the message format fills it', async () => {
  const { IntlMessageFormat } = await import('intl-messageformat');
  const args = { n: 3, dose: 0.25, unit: 'mg', route: 'iv', min: 0, h: 2, text: 'a {b} $& c', s: 1 };
  for (const [id, pattern] of Object.entries(own as Record<string, string>)) {
    if (!pattern.includes('{')) continue;
    const names = pattern.match(/(?<=\{\s*)\w+/g) ?? [];
    const given = Object.fromEntries(names.map((name) => [name, (args as Record<string, string | number>)[name] ?? `<${name}>`]));
    expect(say(id, given), id).toBe(String(new IntlMessageFormat(pattern, 'en').format(given)).trimEnd());
  }
});
