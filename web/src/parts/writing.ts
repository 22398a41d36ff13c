// What every pad shares while it is open: when the thing happened, and the row that it corrects.
import { createSignal } from 'solid-js';
import type { Entry } from '../store/entry.ts';
import { happenedAt } from '../store/entry.ts';
import { type Writing, clockOffset } from '../store/record.ts';
import { nameIn } from '../words/messages.ts';

/** Minutes before now, or a moment. */
export type When = { back: number } | { at: number };

const [when, setWhen] = createSignal<When>({ back: 0 });
const [correcting, setCorrecting] = createSignal<{ entry: Entry; reason: string } | undefined>();
export { when, setWhen, correcting, setCorrecting };

const minute = 60_000;

export function whenMs(): number {
  const chosen = when();
  return 'at' in chosen ? chosen.at : Date.now() - chosen.back * minute;
}

export function startWriting(): void {
  setWhen({ back: 0 });
  setCorrecting(undefined);
}

/** When a row happened, by this phone's clock, whichever phone wrote it. */
export const rowTime = (entry: Entry): number => happenedAt(entry) + clockOffset();

/** A pad opened to correct a row starts from that row's time, and from what it says. */
export function startCorrecting(entry: Entry, reason: string): void {
  setWhen({ at: rowTime(entry) });
  setCorrecting({ entry, reason });
}

/** The row that a pad of these kinds was opened to correct. */
export function rowToCorrect(...kinds: string[]): Entry | undefined {
  const entry = correcting()?.entry;
  return entry && kinds.includes(entry.kind) ? entry : undefined;
}

/** What the pad writes, with the time chosen and the row that it stands for. */
export function written(caseId: string, kind: string, payload: Record<string, unknown>): Writing {
  const chosen = when();
  const old = correcting();
  return {
    case: caseId,
    kind,
    payload,
    at: 'back' in chosen && chosen.back === 0 ? undefined : whenMs(),
    strikes: old?.entry.id,
    note: old ? nameIn('strike', old.reason) : undefined,
  };
}
