// One case as it stands: its entries, the core's newest answer on them, and what the pads may offer.
import { type Accessor, createContext, createEffect, createMemo, createSignal, onCleanup, useContext } from 'solid-js';
import type { Advice, Choices } from '../core/answers.ts';
import { adviceOn, readChoices } from '../core/client.ts';
import { type Entry, struckIds } from '../store/entry.ts';
import { timeText } from '../store/ids.ts';
import { clockOffset, corrected, entriesOf, settings } from '../store/record.ts';
import { whenCalm } from './calm.ts';
import { now, tickAt } from './clock.ts';

const [choices, setChoices] = createSignal<Choices | undefined>();
const [coreFault, setCoreFault] = createSignal<string | undefined>();
export { choices, coreFault };

const coreRetry = 5_000;

/** The pads' choices, from the core; until it answers, as it last gave them on this phone. */
export async function startCore(): Promise<void> {
  if (choices() === undefined) setChoices(await settings().setting<Choices>('choices'));
  try {
    const fresh = await readChoices();
    setChoices(fresh);
    setCoreFault(undefined);
    await settings().keep('choices', fresh);
  } catch (error) {
    setCoreFault(error instanceof Error ? error.message : String(error));
    setTimeout(() => void startCore(), coreRetry);
  }
}

export interface LiveCase {
  id: string;
  entries: Accessor<readonly Entry[]>;
  struck: Accessor<Set<string>>;
  advice: Accessor<Advice | undefined>;
}

// The newest answer on each case, for a screen that opens before its own first one has come.
const answered = new Map<string, Advice>();
export const lastAnswer = (id: string): Advice | undefined => answered.get(id);

/** The newest answer wins; while one is being worked out, later wishes fold into one. */
export function followAdvice(id: string, entries: Accessor<readonly Entry[]>): Accessor<Advice | undefined> {
  const [advice, setAdvice] = createSignal<Advice | undefined>();
  let busy = false;
  let again = false;
  let gone = false;
  let newest: Advice | undefined; // an older answer that waited for calm must not come after a newer one
  onCleanup(() => {
    gone = true;
  });
  const renew = async (): Promise<void> => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      do {
        again = false;
        const answer = await adviceOn(corrected(entries()), timeText(Date.now() - clockOffset()));
        if (gone) return;
        setCoreFault(undefined);
        answered.set(id, answer);
        if (advice() === undefined) setAdvice(answer);
        else {
          newest = answer;
          whenCalm(() => !gone && newest === answer && setAdvice(answer));
        }
      } while (again);
    } catch (error) {
      setCoreFault(error instanceof Error ? error.message : String(error));
    } finally {
      busy = false;
    }
  };
  createEffect(() => {
    entries();
    now();
    void renew();
  });
  createEffect(() => {
    const next = advice()?.next_change;
    if (next) onCleanup(tickAt(Date.parse(next)));
  });
  return advice;
}

export function liveCase(id: string): LiveCase {
  const entries = createMemo(() => entriesOf(id));
  return { id, entries, struck: createMemo(() => struckIds(entries())), advice: followAdvice(id, entries) };
}

const Context = createContext<LiveCase>();
export const LiveProvider = Context.Provider;

export function useLive(): LiveCase {
  const live = useContext(Context);
  if (live === undefined) throw new Error('no case is open here');
  return live;
}
