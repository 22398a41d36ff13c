// From a tap to a saved entry. The core is asked first; what it lets pass is saved at once, what it stops goes to the
// stop card, where a person can still record it with a reason: what has happened can always be written down.
import { createSignal } from 'solid-js';
import type { Verdict } from '../core/answers.ts';
import { Refused, mayRecord } from '../core/client.ts';
import type { Entry } from '../store/entry.ts';
import { timeText } from '../store/ids.ts';
import { type Writing, clockOffset, corrected, draft, entriesOf, save } from '../store/record.ts';
import { sendSoon } from '../sync/link.ts';

export interface Stop {
  entries: Entry[];
  verdict: Verdict;
  act: string;
  about: string;
  done: (saved: boolean) => void;
}

const [stop, setStop] = createSignal<Stop | undefined>();
const [warnings, setWarnings] = createSignal<Verdict | undefined>();
const [refusal, setRefusal] = createSignal<string | undefined>();
export { stop, warnings, refusal, setRefusal };

const firmness = ['allowed', 'warned', 'needs_override', 'needs_senior', 'never'];

function firmest(verdicts: Verdict[]): Verdict {
  return verdicts.reduce((worst, next) =>
    firmness.indexOf(next.permission) > firmness.indexOf(worst.permission) ? next
    : next.second_person && !worst.second_person ? { ...worst, second_person: true }
    : worst,
  );
}

// What the stop is about, named as the core names its guards.
function guardOf(entry: Entry): [string, string] {
  if (entry.kind === 'drug') return ['give', String(entry.drug)];
  if (entry.kind === 'fluid') return ['give', String(entry.fluid)];
  if (entry.kind === 'blood') return ['give', String(entry.product)];
  if (entry.kind === 'garment' && entry.action === 'open') return ['open', String(entry.segment ?? '')];
  if (entry.kind === 'garment' && entry.action === 'placed') return ['wrap', ''];
  if (entry.kind === 'manoeuvre' && entry.what === 'balloon_out') return ['take_out', 'balloon'];
  return ['record', ''];
}

/** On an entry as it stands after those written with it. */
async function verdictOn(entry: Entry, preceding: Entry[]): Promise<Verdict> {
  const proposed = clockOffset() === 0 ? entry : { ...entry, skew_ms: clockOffset() };
  return mayRecord(corrected([...entriesOf(entry.case), ...preceding]), proposed, timeText(Date.now() - clockOffset()));
}

async function keep(entries: Entry[]): Promise<true> {
  await save(entries);
  sendSoon();
  return true;
}

let before: Promise<unknown> = Promise.resolve();

/** @return whether it was saved. A refusal leaves the pad as it is, with the sentence in `refusal`. Taps are judged in
 *  the order they came, each after the one before it is saved: the calves are closed after the ankles, however quick
 *  the fingers. */
export function record(...writings: Writing[]): Promise<boolean> {
  const entries = writings.map((writing) => draft(writing));
  const done = before.then(() => judge(entries));
  before = done.catch(() => undefined);
  return done;
}

async function judge(entries: Entry[]): Promise<boolean> {
  setRefusal(undefined);
  setWarnings(undefined);
  let verdict: Verdict;
  try {
    verdict = firmest(await Promise.all(entries.map((entry, i) => verdictOn(entry, entries.slice(0, i)))));
  } catch (error) {
    if (error instanceof Refused) {
      setRefusal(error.message);
      return false;
    }
    return keep(entries); // a core that does not answer must not stop the record
  }
  if ((verdict.permission === 'allowed' || verdict.permission === 'warned') && !(verdict.second_person && !entries[0]!.second)) {
    await keep(entries);
    if (verdict.permission === 'warned') setWarnings(verdict);
    return true;
  }
  const [act, about] = guardOf(entries[0]!);
  return new Promise((done) => setStop({ entries, verdict, act, about, done }));
}

/** Entries that no rule stands behind: strikes, names, answers. Saved without asking. */
export async function keepAs(...writings: Writing[]): Promise<void> {
  await keep(writings.map((writing) => draft(writing)));
}

/** The way on from a stop card: the entry, and that the advice was declined, in one piece. */
export async function goOn(why: string, second: string | undefined): Promise<void> {
  const card = stop();
  if (card === undefined) return;
  const entries = second ? card.entries.map((entry) => ({ ...entry, second })) : card.entries;
  const declined = draft({
    case: entries[0]!.case,
    kind: 'advice_declined',
    payload: { advice: card.about ? `${card.act}:${card.about}` : card.act, why },
  });
  const stopped = card.verdict.permission !== 'allowed' && card.verdict.permission !== 'warned';
  await keep(stopped ? [...entries, declined] : entries);
  setStop(undefined);
  card.done(true);
}

export function holdBack(): void {
  const card = stop();
  setStop(undefined);
  card?.done(false);
}
