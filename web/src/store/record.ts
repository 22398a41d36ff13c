// The record on this phone, as the screens see it: every entry by case, kept in step with the database. Writing resolves
// when the entry is durable, and only then do screens show it.
import { createSignal } from 'solid-js';
import { Database, type Unsent } from './database.ts';
import { type Entry, type Payload, contentOf, inOrder, someoneHere } from './entry.ts';
import { newId, timeText } from './ids.ts';

export interface Writing {
  case: string;
  kind: string;
  payload?: Payload;
  at?: number;
  second?: string;
  note?: string;
  strikes?: string;
}

export interface Saved {
  case: string;
  entries: Entry[];
  at: number;
}

type Cases = ReadonlyMap<string, readonly Entry[]>;

let database: Database;
const [cases, setCases] = createSignal<Cases>(new Map());
const [outbox, setOutbox] = createSignal<ReadonlyMap<string, Unsent>>(new Map());
const [lastSaved, setLastSaved] = createSignal<Saved | undefined>();
const [diskFault, setDiskFault] = createSignal<string | undefined>();
const [who, setWhoSignal] = createSignal(someoneHere);
const [people, setPeople] = createSignal<string[]>([]);
// This phone's clock minus the reference clock, in ms, as a server measured it at the last exchange.
const [clockOffset, setClockOffset] = createSignal(0);
let device = '';
// The same record may be open twice on one phone.
const otherTabs = new BroadcastChannel('stanch-record');

export { cases, outbox, lastSaved, diskFault, who, people, clockOffset };
export const settings = () => database;
export const deviceId = () => device;
export const entriesOf = (id: string): readonly Entry[] => cases().get(id) ?? [];
export const forgetLastSaved = () => setLastSaved(undefined);

let newest: Saved | undefined;
/** Offers anew to take back the newest save, if it is from `since` (ms) or later. */
export const offerTakeBack = (since: number) => void (newest && newest.at >= since && setLastSaved({ ...newest, at: Date.now() }));

export async function openRecord(name?: string): Promise<void> {
  database = await Database.open(name);
  void navigator.storage?.persist?.(); // asks the browser never to clear this store by itself
  otherTabs.addEventListener('message', (event: MessageEvent<Entry[]>) => take(event.data));
  device = (await database.setting<string>('device')) ?? '';
  if (device === '') {
    device = `phone-${newId().slice(-6)}`;
    await database.keep('device', device);
  }
  setPeople((await database.setting<string[]>('people')) ?? []);
  setWhoSignal((await database.setting<string>('who')) ?? someoneHere);
  setOutbox(new Map((await database.unsent()).map((row) => [row.id, row])));
  const entries = await database.entries();
  take(entries);
  learnOffset(entries.filter((entry) => !outbox().has(entry.id)));
}

/** An own entry that came back carries what the server measured; without it the clock was right. */
function learnOffset(exchanged: readonly Entry[]): void {
  let newest: Entry | undefined;
  for (const entry of exchanged)
    if (entry.from === device && (newest === undefined || entry.written > newest.written)) newest = entry;
  if (newest) setClockOffset(newest.skew_ms ?? 0);
}

/** The entries as the core must read them: own ones that no server has seen yet carry the offset known so far. */
export function corrected(entries: readonly Entry[]): readonly Entry[] {
  const offset = clockOffset();
  if (offset === 0) return entries;
  return entries.map((entry) =>
    entry.from === device && entry.skew_ms === undefined && outbox().has(entry.id) ? { ...entry, skew_ms: offset } : entry,
  );
}

/** The device's name as the server knows it from now on. */
export async function renameDevice(name: string): Promise<void> {
  device = name;
  await database.keep('device', name);
}

/** Who writes from now on; the last three stay at hand. */
export async function setWho(name: string): Promise<void> {
  setWhoSignal(name);
  if (name !== someoneHere) setPeople([name, ...people().filter((other) => other !== name)].slice(0, 12));
  await database.keep('who', name);
  await database.keep('people', people());
}

function take(entries: readonly Entry[]): void {
  if (entries.length === 0) return;
  const next = new Map(cases());
  const touched = new Map<string, Map<string, Entry>>();
  for (const entry of entries) {
    let known = touched.get(entry.case);
    if (known === undefined) {
      known = new Map((next.get(entry.case) ?? []).map((one) => [contentOf(one), one]));
      touched.set(entry.case, known);
    }
    known.set(contentOf(entry), entry);
  }
  for (const [id, known] of touched) next.set(id, [...known.values()].sort(inOrder));
  setCases(next);
}

export function draft(writing: Writing, now: number = Date.now()): Entry {
  const entry: Entry = {
    id: newId(now),
    case: writing.case,
    at: timeText(writing.at ?? now),
    written: timeText(now),
    by: who(),
    from: device,
    kind: writing.kind,
    ...writing.payload,
  };
  if (writing.second) entry.second = writing.second;
  if (writing.note) entry.note = writing.note;
  if (writing.strikes) entry.strikes = writing.strikes;
  return entry;
}

const hour = 3_600_000;
const retryMs = 5_000;

/** Durable first, then shown. A full disk is retried for as long as the page lives, and said. */
export async function save(entries: readonly Entry[]): Promise<void> {
  for (;;) {
    try {
      await database.addWritten(entries);
      break;
    } catch (error) {
      setDiskFault(error instanceof Error ? error.message : String(error));
      await new Promise((resolve) => setTimeout(resolve, retryMs));
    }
  }
  setDiskFault(undefined);
  const unsent = new Map(outbox());
  for (const entry of entries) unsent.set(entry.id, { id: entry.id, since: Date.parse(entry.written) });
  setOutbox(unsent);
  take(entries);
  otherTabs.postMessage(entries);
  newest = { case: entries[0]!.case, entries: [...entries], at: Date.now() };
  setLastSaved(newest);
}

export async function write(writing: Writing): Promise<Entry> {
  const entry = draft(writing);
  await save([entry]);
  return entry;
}

/** Voids entries just written; the bar that offered it goes away. */
export async function takeBack(saved: Saved): Promise<void> {
  await save(saved.entries.map((entry) => draft({ case: entry.case, kind: 'strike', strikes: entry.id })));
  forgetLastSaved();
}

export async function receive(entries: readonly Entry[], cursor: number): Promise<void> {
  await database.addReceived(entries, cursor);
  take(entries);
  learnOffset(entries);
}

/** Takes what another phone handed over into the record; says how many entries are new here. */
export async function takeOver(entries: readonly Entry[]): Promise<number> {
  const fresh = await database.addHanded(entries);
  setOutbox(new Map((await database.unsent()).map((row) => [row.id, row])));
  take(fresh);
  if (fresh.length > 0) otherTabs.postMessage(fresh);
  return fresh.length;
}

/** Another record answers from now on: what is here goes out to it again. */
export async function beginWith(record: string): Promise<void> {
  await database.beginWith(record);
  setOutbox(new Map((await database.unsent()).map((row) => [row.id, row])));
}

export async function confirmSent(ids: readonly string[]): Promise<void> {
  if (ids.length === 0) return;
  await database.confirmSent(ids);
  const unsent = new Map(outbox());
  for (const id of ids) unsent.delete(id);
  setOutbox(unsent);
}

export async function markRefused(id: string, sentence: string): Promise<void> {
  await database.markRefused(id, sentence);
  const row = outbox().get(id);
  if (row) setOutbox(new Map(outbox()).set(id, { ...row, refused: sentence }));
}

/** Entries waiting for a server, oldest first; refused ones wait for a person. */
export function toSend(): Entry[] {
  const out: Entry[] = [];
  for (const list of cases().values())
    for (const entry of list) {
      const row = outbox().get(entry.id);
      if (row && row.refused === undefined) out.push(entry);
    }
  return out.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Not before a day before the birth or the start, not ahead of the clock. */
export const earliestBack = 24 * hour;
