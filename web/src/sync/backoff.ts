// How long to wait before trying a server again: doubling, with a ceiling, and spread so that a ward's phones do not all
// come back in the same second.

const first = 1_000;
const most = 30_000;

export function waitBefore(attempt: number, chance: number): number {
  const whole = Math.min(most, first * 2 ** Math.min(attempt, 10));
  return whole / 2 + (whole / 2) * chance;
}
