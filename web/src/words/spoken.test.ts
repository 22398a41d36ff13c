import { expect, test } from 'vitest';
import catalogue from '../../../i18n/en.json';
import { dueText } from './adviceText.ts';
import { withUnit } from './figures.ts';
import { numberWords, spoken } from './spoken.ts';

test('numbers are spelled out', () => {
  expect(numberWords('0.5')).toBe('zero point five');
  expect(numberWords('1')).toBe('one');
  expect(numberWords('21')).toBe('twenty-one');
  expect(numberWords('105')).toBe('one hundred and five');
  expect(numberWords('1500')).toBe('one thousand five hundred');
  expect(numberWords('12\u202f040')).toBe('twelve thousand and forty');
});

test('units and clocks are spelled out, words stay as they are', () => {
  expect(spoken('Give tranexamic acid 1\u00a0g, slowly into a vein')).toBe('Give tranexamic acid one gram, slowly into a vein');
  expect(spoken('in 1000\u00a0mL over 240\u00a0min, 60 /min')).toBe('in one thousand millilitres over two hundred and forty minutes, sixty per minute');
  expect(spoken('by 08:05, from 12:00')).toBe("by eight oh five, from twelve o'clock");
  expect(spoken('20\u00a0international units')).toBe('twenty international units');
  expect(spoken('30\u00a0mL/kg')).toBe('thirty millilitres per kilogram');
  expect(spoken('2\u00a0mm')).toBe('two mm');
});

const figures: Record<string, number> = { dose: 0.5, ml: 1500, min: 10, clear_ml: 3500, units: 4 };

test('every due row is said as it is written, with no digit left', () => {
  for (const key of Object.keys(catalogue)) {
    if (!key.startsWith('due.')) continue;
    const names = [...(catalogue as Record<string, string>)[key]!.matchAll(/\{(\w+)/g)].map((match) => match[1]!);
    const args = Object.fromEntries(names.filter((name) => name in figures).map((name) => [name, figures[name]!]));
    const line = dueText({ id: key.slice(4), about: 'oxytocin', priority: 'medium', standing: 'due', reasons: [], arguments: { ...args, unit: 'IU', drug: 'oxytocin', route: 'im' } });
    const said = spoken(line);
    expect(said, key).not.toMatch(/\d/);
    const bare = (text: string) => text.replace(/[\d.\u202f\u00a0]+/g, ' ');
    for (const word of bare(line).split(/\s+/).filter((one) => one.length > 4)) expect(said, `${key}: ${word}`).toContain(word);
    for (const value of Object.values(args)) expect(said, key).toContain(numberWords(String(value)));
  }
});

test('a unit of the catalogue that is an abbreviation has words', () => {
  for (const unit of ['mL', 'mL/h', 'mL/kg', 'g', 'mg', 'kg', 'g/L', 'mmHg', '/min', 'min', 'h', 's', 'cm', 'mmol/L'])
    expect(spoken(withUnit(3, unit)), unit).toMatch(/^three [a-z ]{4,}$/);
});
