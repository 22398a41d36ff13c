import { describe, expect, test } from 'vitest';
import { type Entry, inOrder, struckIds } from './entry.ts';
import { newId, timeText } from './ids.ts';

const entry = (id: string, more: Partial<Entry> = {}): Entry => ({
  id,
  case: 'c',
  at: '2031-05-06T08:00:00Z',
  written: '2031-05-06T08:00:00Z',
  by: 'unclaimed',
  from: 'phone-1',
  kind: 'vitals',
  ...more,
});

describe('strikes', () => {
  test('void what they name, in whatever order they come', () => {
    expect([...struckIds([entry('b', { strikes: 'a' }), entry('a')])]).toEqual(['a']);
  });
  test('a struck strike restores', () => {
    const all = [entry('a'), entry('b', { strikes: 'a' }), entry('c', { strikes: 'b' })];
    expect([...struckIds(all)]).toEqual(['b']);
  });
  test('a ring strikes something at most, and ends', () => {
    expect(struckIds([entry('a', { strikes: 'b' }), entry('b', { strikes: 'a' })]).size).toBeLessThan(2);
  });
});

test('order follows the corrected clock, then writing, then id', () => {
  const late = entry('a', { at: '2031-05-06T08:05:00Z', skew_ms: 600_000 });
  const early = entry('b');
  const twin = entry('c');
  expect([twin, early, late].sort(inOrder).map((one) => one.id)).toEqual(['a', 'b', 'c']);
});

test('ids of one millisecond keep their order', () => {
  const ids = Array.from({ length: 100 }, () => newId(1_935_000_000_000));
  expect([...ids].sort()).toEqual(ids);
  expect(new Set(ids).size).toBe(100);
});

test('ids are version 7 and sort by time', () => {
  const ids = [1, 2, 3].map((ms) => newId(Date.UTC(2031, 4, 6) + ms));
  for (const id of ids) expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect([...ids].sort()).toEqual(ids);
  expect(timeText(Date.UTC(2031, 4, 6, 8))).toBe('2031-05-06T08:00:00.000Z');
});
