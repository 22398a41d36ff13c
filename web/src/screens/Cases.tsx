// Every case on this phone, the one that needs hands first on top.
import { For, Show, createEffect, createMemo, createSignal, mapArray, on, untrack } from 'solid-js';
import type { Advice } from '../core/answers.ts';
import { LinkMark } from '../parts/LinkMark.tsx';
import { bornText, isGone, labelOf } from '../parts/caseFacts.ts';
import { now } from '../parts/clock.ts';
import { followAdvice, lastAnswer } from '../parts/live.tsx';
import { marks } from '../parts/marks.ts';
import { whenStill } from '../parts/calm.ts';
import { go } from '../parts/route.ts';
import type { Entry } from '../store/entry.ts';
import { newId } from '../store/ids.ts';
import { cases } from '../store/record.ts';
import { keepAs } from '../parts/recording.ts';
import { dueText } from '../words/adviceText.ts';
import { clockText, figure, spanText } from '../words/figures.ts';
import { message, say, sentence } from '../words/messages.ts';
import { LanguageKey } from './LanguageChoice.tsx';

const day = 24 * 3_600_000;
const switchGuard = 600; // ms before a card takes a tap: the tap that came here must not fall through to a card

/** How the core sets cases beside each other: compared from the left, the greater needs hands first. One that it has not
 *  judged yet stands before those that it knows to be quiet. */
const unjudged = [1, 0, 0, 0.5];

function byUrgency(a: number[], b: number[]): number {
  for (const [i, value] of a.entries()) if (value !== b[i]) return b[i]! - value;
  return 0;
}

// The tap says that she bleeds enough for a case: the first response is live at once, and a lighter bleed is one
// correction away.
export async function startCase(): Promise<void> {
  const id = newId();
  await keepAs(
    { case: id, kind: 'opened', payload: {} },
    { case: id, kind: 'finding', payload: { what: 'bleeding', value: 'heavy' } },
  );
  go('start', id);
}

function Card(props: { entries: readonly Entry[]; advice: Advice | undefined; onOpen: () => void }) {
  const known = () => props.advice?.known;
  const sign = (name: string) => {
    const seen = known()?.signs?.[name];
    return typeof seen === 'object' ? (typeof seen.value === 'number' ? figure(seen.value) : message('name', String(seen.value))) : undefined;
  };
  const late = () => props.advice?.due.filter((due) => due.standing === 'late' || due.standing === 'overdue').length ?? 0;
  const first = () => props.advice?.due[0];
  const line = () =>
    [
      sign('pulse') && say('cases.pulse', { pulse: sign('pulse')! }),
      sign('sbp') && say('cases.pressure', { sbp: sign('sbp')!, dbp: sign('dbp') ?? '–' }),
      known()?.loss?.total_ml !== undefined && say('cases.loss', { ml: figure(known()!.loss!.total_ml!, 0) }),
      known()?.garment?.on && say('cases.garment', { since: spanText(now() - Date.parse(known()!.garment!.placed_at ?? '')) }),
    ].filter(Boolean);
  return (
    <li>
      <button type="button" class="card" onClick={() => props.onOpen()}>
        <span class="card-title">
          <Show when={first()}>{(due) => <span class={`mark ${due().priority}`}>{marks[due().priority]}</span>}</Show>
          <b>{labelOf(props.entries)}</b> <span>{bornText(props.entries, now())}</span>
        </span>
        <span>{props.advice ? sentence(message('phase', props.advice.phase)) : ''}</span>
        <span>{line().join(' · ')}</span>
        <span>
          <Show when={late() > 0}>
            <b>{say('cases.late', { n: late() })} · </b>
          </Show>
          {first() ? say('cases.next', { what: dueText(first()!) }) : say('cases.nothing_due')}
        </span>
      </button>
    </li>
  );
}

export function Cases() {
  const cameAt = performance.now();
  const [starting, setStarting] = createSignal(false);
  const all = createMemo(() => [...cases()].filter(([, entries]) => !isGone(entries)));
  const newest = (entries: readonly Entry[]) => Math.max(...entries.map((entry) => Date.parse(entry.written)));
  const isCurrent = (entries: readonly Entry[]) => now() - newest(entries) < day;
  const currentIds = createMemo(() => all().filter(([, entries]) => isCurrent(entries)).map(([id]) => id), [] as string[], {
    equals: (a, b) => a.join() === b.join(),
  });
  const earlier = createMemo(() => all().filter(([, entries]) => !isCurrent(entries)).reverse());
  const judged = mapArray(currentIds, (id) => ({
    id,
    advice: followAdvice(id, createMemo(() => cases().get(id) ?? [])),
  }));
  type Judged = ReturnType<typeof judged>[number];
  const urgency = ({ id, advice }: Judged) => (advice() ?? lastAnswer(id))?.urgency ?? unjudged;
  const wanted = createMemo(() =>
    [...judged()].sort((a, b) => byUrgency(urgency(a), urgency(b)) || (a.id < b.id ? 1 : -1)),
  );
  // A card never changes its place under a finger that is about to land on it.
  const [ordered, setOrdered] = createSignal<Judged[]>(untrack(wanted));
  createEffect(on(wanted, () => whenStill(() => setOrdered(wanted())), { defer: true }));
  const open = (id: string) => {
    if (performance.now() - cameAt >= switchGuard) go('case', id);
  };
  return (
    <main class="plain cases">
      <header class="strip">
        <h1>{say('cases.title')}</h1>
        <time>{clockText(now())}</time>
        <LanguageKey />
        <button type="button" class="key small to-link" onClick={() => go('link')}>
          <LinkMark />
        </button>
      </header>
      <Show when={all().length > 0} fallback={<p class="empty">{say('cases.empty')}</p>}>
        <ul class="cards">
          <For each={ordered()}>
            {({ id, advice }) => <Card entries={cases().get(id) ?? []} advice={advice() ?? lastAnswer(id)} onOpen={() => open(id)} />}
          </For>
        </ul>
        <Show when={earlier().length > 0}>
          <h2>{say('cases.earlier')}</h2>
          <ul class="cards">
            <For each={earlier()}>
              {([id, entries]) => (
                <li>
                  <button type="button" class="card" onClick={() => open(id)}>
                    <b>{labelOf(entries)}</b> <span>{clockText(entries[0]!.at, now())}</span>
                  </button>
                </li>
              )}
            </For>
          </ul>
        </Show>
      </Show>
      <footer class="foot">
        <button type="button" class="key small" onClick={() => go('read')}>
          {say('cases.read_code')}
        </button>
        <button
          type="button"
          class="key act"
          disabled={starting()}
          onClick={() => {
            setStarting(true);
            void startCase();
          }}
        >
          {say('cases.start')}
        </button>
      </footer>
    </main>
  );
}
