import { describe, expect, test } from 'vitest';
import { type Grammar, grammarOf, isComplete, pressed, typedText, valueOf } from './grammar.ts';

const pulse = grammarOf({ type: 'whole', low: 0, high: 300, usual_low: 20, usual_high: 250 }, 0);
const systolic = grammarOf({ type: 'whole', low: 0, high: 320, usual_low: 30, usual_high: 260 }, 0);
const temperature = grammarOf({ type: 'number', low: 20, high: 45, usual_low: 30, usual_high: 43 }, 1);
const dose = grammarOf({ type: 'number', low: 0, high: 100000 }, 2);
const keys = ['.', '00', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9'];

function typed(text: string, g: Grammar): string {
  let out = '';
  for (const key of text) out = pressed(out, key, g) ?? out;
  return out;
}

describe('a pair is typed without a key for next', () => {
  test('three digits complete a pulse of 118', () => {
    expect(isComplete(typed('11', pulse), pulse)).toBe(false);
    expect(isComplete(typed('118', pulse), pulse)).toBe(true);
  });
  test('two digits complete a systolic of 84', () => expect(isComplete(typed('84', systolic), systolic)).toBe(true));
  test('a pulse of 24 may still become 240', () => expect(isComplete(typed('24', pulse), pulse)).toBe(false));
  test('a temperature of 36.5 is complete', () => expect(isComplete(typed('36.5', temperature), temperature)).toBe(true));
});

describe('digits that would leave the range are dimmed', () => {
  test('no pulse of 260', () => expect(pressed('26', '0', pulse)).toBeUndefined());
  test('no fourth digit', () => expect(pressed('118', '0', pulse)).toBeUndefined());
  test('no decimal in a pulse', () => expect(pressed('88', '.', pulse)).toBeUndefined());
  test('no dose that begins with the point', () => expect(pressed('', '.', dose)).toBeUndefined());
  test('no second leading zero', () => expect(pressed('0', '0', dose)).toBeUndefined());
  test('no systolic of 1 or 2 digits below the likely range', () => expect(valueOf(typed('19', systolic), systolic)).toBeUndefined());
});

describe('what is unlikely but true can be written', () => {
  test('a leading 0 gives a systolic of 19', () => expect(valueOf(typed('019', systolic), systolic)).toBe(19));
  test('a leading 0 gives a pulse of 280', () => expect(valueOf(typed('0280', pulse), pulse)).toBe(280));
  test('nothing gives a pulse of 301', () => expect(pressed('030', '1', pulse)).toBeUndefined());
  test('half a gram', () => expect(valueOf(typed('0.5', dose), dose)).toBe(0.5));
});

test('what was written reads as it would have been typed', () => {
  for (const [value, g] of [[118, pulse], [280, pulse], [19, systolic], [36.5, temperature], [0.25, dose]] as const)
    expect(valueOf(typedText(value, g), g), String(value)).toBe(value);
});

test('random keys never give a value outside what the record holds', () => {
  let seed = 7;
  const next = (n: number) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed % n;
  };
  for (const g of [pulse, systolic, temperature, dose])
    for (let run = 0; run < 2000; run += 1) {
      let text = '';
      for (let i = 0; i < 8; i += 1) {
        const after = pressed(text, keys[next(keys.length)]!, g);
        if (after === undefined) continue;
        text = after;
        const value = valueOf(text, g);
        if (value !== undefined) expect(value >= g.low && value <= g.high, text).toBe(true);
      }
    }
});

test('every beginning that is allowed can be finished or taken back', () => {
  for (const g of [pulse, systolic, temperature]) {
    const open = [''];
    const seen = new Set(open);
    while (open.length > 0) {
      const text = open.pop()!;
      const further = keys.map((key) => pressed(text, key, g)).filter((after) => after !== undefined);
      expect(valueOf(text, g) !== undefined || further.length > 0, text).toBe(true);
      for (const after of further)
        if (!seen.has(after)) {
          seen.add(after);
          open.push(after);
        }
    }
  }
});
