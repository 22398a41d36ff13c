// The page's clock: ages are renewed each 15 s, at a moment that an answer names, and when the phone wakes. A server that
// found this phone's clock wrong has said by how much, and ages count by the corrected clock.
import { createSignal } from 'solid-js';
import { clockOffset } from '../store/record.ts';

const each = 15_000;
const [phoneNow, setPhoneNow] = createSignal(Date.now());

export const now = () => phoneNow() - clockOffset();

export const tick = () => setPhoneNow(Date.now());

export function startClock(): void {
  setInterval(tick, each);
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && tick());
}

const longest = 2 ** 31 - 1; // browsers fire at once beyond this

/** Ticks at that moment; returns how to call it off. */
export function tickAt(moment: number): () => void {
  const timer = setTimeout(tick, Math.min(longest, Math.max(0, moment + clockOffset() - Date.now()) + 20));
  return () => clearTimeout(timer);
}
