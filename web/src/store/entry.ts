// One thing that happened, as docs/formats/record.md writes it. Payload fields keep their wire spelling.

export interface Entry {
  id: string;
  case: string;
  at: string;
  written: string;
  by: string;
  from: string;
  kind: string;
  second?: string;
  strikes?: string;
  note?: string;
  skew_ms?: number;
  [field: string]: unknown;
}

export type Payload = Record<string, unknown>;

export const someoneHere = 'unclaimed';

const frame = new Set(['id', 'case', 'at', 'written', 'by', 'from', 'kind', 'second', 'strikes', 'note', 'skew_ms']);

/** What an entry says, without who, when and where from; `without` leaves out more fields. */
export function payloadOf(entry: Entry, without: readonly string[] = []): Payload {
  return Object.fromEntries(Object.entries(entry).filter(([field]) => !frame.has(field) && !without.includes(field)));
}

const contents = new WeakMap<Entry, string>();

/** What makes two entries of one id the same: all but `skew_ms`, which a server adds. */
export function contentOf(entry: Entry): string {
  let content = contents.get(entry);
  if (content === undefined) {
    const sorted = (_: string, value: unknown): unknown =>
      value !== null && typeof value === 'object' && !Array.isArray(value) ?
        Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value;
    content = JSON.stringify({ ...entry, skew_ms: undefined }, sorted);
    contents.set(entry, content);
  }
  return content;
}

/** The ids without effect: struck by an entry that is itself in effect. Striking a strike restores. */
export function struckIds(entries: readonly Entry[]): Set<string> {
  const strikers = new Map<string, string[]>();
  for (const entry of entries)
    if (entry.strikes) strikers.set(entry.strikes, [...(strikers.get(entry.strikes) ?? []), entry.id]);
  const struck = new Set<string>();
  const settled = new Map<string, boolean>();
  const isStruck = (id: string, path: Set<string>): boolean => {
    const known = settled.get(id);
    if (known !== undefined) return known;
    if (path.has(id)) return false; // a ring strikes nothing; the core reports it
    path.add(id);
    const out = (strikers.get(id) ?? []).some((by) => !isStruck(by, path));
    path.delete(id);
    settled.set(id, out);
    return out;
  };
  for (const entry of entries) if (isStruck(entry.id, new Set())) struck.add(entry.id);
  return struck;
}

/** When it happened by the corrected clock, in ms. */
export function happenedAt(entry: Entry): number {
  return Date.parse(entry.at) - (entry.skew_ms ?? 0);
}

/** Folding order: corrected `at`, then corrected `written`, then `id`. */
export function inOrder(a: Entry, b: Entry): number {
  return (
    happenedAt(a) - happenedAt(b) ||
    Date.parse(a.written) - (a.skew_ms ?? 0) - (Date.parse(b.written) - (b.skew_ms ?? 0)) ||
    (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
  );
}
