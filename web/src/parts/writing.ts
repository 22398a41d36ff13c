// What every pad shares while it is open: when the thing happened, and the row that it corrects.
import { createSignal } from 'solid-js';
import type { Entry } from '../store/entry.ts';
import type { Writing } from '../store/record.ts';
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

/** A pad opened to correct a row starts from that row's time. */
export function startCorrecting(entry: Entry, reason: string): void {
  setWhen({ at: Date.parse(entry.at) });
  setCorrecting({ entry, reason });
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
