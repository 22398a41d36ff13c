import { describe, expect, it } from 'vitest';
import { apart, speaksOfWater, within } from './wet.ts';

describe('touches on nothing', () => {
  const here = { at: 1000, x: 40, y: 300 };
  it('tell of a wet screen when two are far apart and soon after each other', () => {
    expect(speaksOfWater([here, { at: 1000 + within, x: 40, y: 300 + apart }])).toBe(true);
    expect(speaksOfWater([here, { at: 1200, x: 50, y: 310 }, { at: 1400, x: 200, y: 90 }])).toBe(true);
  });
  it('are a finger that misses when near each other, or a while apart', () => {
    expect(speaksOfWater([here, { at: 1200, x: 40, y: 300 + apart - 1 }])).toBe(false);
    expect(speaksOfWater([here, { at: 1001 + within, x: 300, y: 20 }])).toBe(false);
    expect(speaksOfWater([here])).toBe(false);
    expect(speaksOfWater([])).toBe(false);
  });
});
