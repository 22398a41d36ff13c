// What names a case on every screen: bed and initials, and how long since the birth.
import type { Entry } from '../store/entry.ts';
import { struckIds } from '../store/entry.ts';
import { sinceText, spanText } from '../words/figures.ts';
import { say } from '../words/messages.ts';

/** The newest told value of a field of `opened`. */
export function told(entries: readonly Entry[], field: string): unknown {
  const struck = struckIds(entries);
  let out: unknown;
  for (const entry of entries)
    if (entry.kind === 'opened' && !struck.has(entry.id) && entry[field] !== undefined) out = entry[field];
  return out;
}

export const labelOf = (entries: readonly Entry[]): string => String(told(entries, 'label') ?? say('no_label'));

export function bornText(entries: readonly Entry[], now: number): string {
  const birth = told(entries, 'birth_at');
  if (typeof birth === 'string') return say('born', { since: spanText(now - Date.parse(birth)) });
  const first = entries[0];
  return first ? say('cases.started', { since: spanText(now - Date.parse(first.at)) }) : '';
}

/** The same in the strip, where room is short: hours and minutes. */
export function bornShort(entries: readonly Entry[], now: number): string {
  const birth = told(entries, 'birth_at');
  if (typeof birth === 'string') return say('born', { since: sinceText(now - Date.parse(birth)) });
  const first = entries[0];
  return first ? say('started', { since: sinceText(now - Date.parse(first.at)) }) : '';
}

/** The facilities that the record on this phone has seen, the latest first. */
export function facilitiesOf(cases: ReadonlyMap<string, readonly Entry[]>): string[] {
  const seen = new Set<string>();
  for (const entries of [...cases.values()].reverse())
    for (const entry of entries)
      if (entry.kind === 'place')
        for (const one of [entry.where, entry.to]) if (String(one).startsWith('facility:')) seen.add(String(one));
  return [...seen];
}

/** A case that was taken back whole is no case. */
export function isGone(entries: readonly Entry[]): boolean {
  const struck = struckIds(entries);
  return entries.every((entry) => entry.kind === 'strike' || struck.has(entry.id));
}
