// The case already runs; where she is comes next, and the rest can wait. Where there is room, the first steps stand
// beside the questions and are live at once.
import { For, Show, createMemo } from 'solid-js';
import { declinedName } from '../core/dueActs.ts';
import { DueRow } from '../parts/DueRow.tsx';
import { TakeBack, savedIn } from '../parts/TakeBack.tsx';
import { LiveProvider, liveCase, useLive } from '../parts/live.tsx';
import { go, replace } from '../parts/route.ts';
import { keepAs, record } from '../parts/recording.ts';
import { now } from '../parts/clock.ts';
import { isWide } from '../parts/wide.ts';
import { entriesOf } from '../store/record.ts';
import { timeText } from '../store/ids.ts';
import { clockText, figure } from '../words/figures.ts';
import { withoutMarks } from '../words/isolate.ts';
import { nameIn, say, sentence } from '../words/messages.ts';

const beds = 8;
const minute = 60_000;
const bornAgo = [0, 5, 10, 30];
const lossesByEye = [500, 1000, 1500]; // mL: sizes of keys, not limits

function FirstSteps() {
  const live = useLive();
  // Rows are known by name and keep their elements from answer to answer: a tap never lands on one just swapped.
  const due = createMemo(() => new Map((live.advice()?.due ?? []).map((one) => [declinedName(one), one])));
  const names = createMemo(() => [...due().keys()]);
  const began = () => savedIn(live.id)?.entries[0]?.kind === 'opened'; // the start has its own way back
  return (
    <section class="first-steps" aria-label={say('start.steps')}>
      <h2>{say('start.steps')}</h2>
      <div class="scroll" tabindex="0" role="region" aria-label={say('due.title')}>
        <ul>
          <For each={names()}>{(name) => <Show when={due().get(name)}>{(one) => <DueRow due={one()} />}</Show>}</For>
        </ul>
      </div>
      <Show when={!began()}>
        <TakeBack caseId={live.id} />
      </Show>
    </section>
  );
}

export function Start(props: { caseId: string }) {
  const entries = () => entriesOf(props.caseId);
  const choose = async (label: string, where: string) => {
    await keepAs(
      { case: props.caseId, kind: 'opened', payload: { label: withoutMarks(label) } },
      { case: props.caseId, kind: 'place', payload: { where, state: 'arrived' } },
    );
    replace('case', props.caseId);
  };
  const born = (back: number) =>
    keepAs({
      case: props.caseId,
      kind: 'opened',
      payload: { birth_at: timeText(Date.now() - back * minute), ...(back > 0 ? { birth_estimated: true } : {}) },
    });
  const told = (field: string) => entries().some((entry) => entry.kind === 'opened' && entry[field] !== undefined);
  const lost = () => entries().find((entry) => entry.kind === 'loss')?.amount_ml;
  const more = (pad: string) => replace('case', props.caseId, pad); // closing it leads to her bedside
  const undo = async () => {
    await keepAs(...entries().map((entry) => ({ case: props.caseId, kind: 'strike', strikes: entry.id })));
    go();
  };
  return (
    <main class="plain start">
      <header class="strip">
        <h1>{say('start.title')}</h1>
        <span>{say('start.running', { time: clockText(entries()[0]?.at ?? now(), now()) })}</span>
      </header>
      <div class="grid-beds">
        <For each={Array.from({ length: beds }, (_, i) => say('bed', { n: i + 1 }))}>
          {(bed) => (
            <button type="button" class="key" onClick={() => void choose(bed, 'ward')}>
              {bed}
            </button>
          )}
        </For>
        <For each={['theatre', 'ambulance']}>
          {(place) => (
            <button
              type="button"
              class="key"
              classList={{ 'span-2': place === 'ambulance' }}
              onClick={() => void choose(sentence(nameIn('place', place)), place)}
            >
              {sentence(nameIn('place', place))}
            </button>
          )}
        </For>
        <button type="button" class="key" onClick={() => replace('case', props.caseId)}>
          {say('place.none')}
        </button>
      </div>
      <h2>{say('start.born')}</h2>
      <div class="chips" role="group" aria-label={say('start.born')}>
        <For each={bornAgo}>
          {(back) => (
            <button
              type="button"
              class="chip"
              aria-pressed={false}
              aria-label={back === 0 ? say('when.now') : say('when.back', { min: back })}
              disabled={told('birth_at')}
              onClick={() => void born(back)}
            >
              {back === 0 ? say('when.now') : back}
            </button>
          )}
        </For>
        <button
          type="button"
          class="chip"
          disabled={told('birth_mode')}
          onClick={() => void keepAs({ case: props.caseId, kind: 'opened', payload: { birth_mode: 'undelivered' } })}
        >
          {say('not_yet_born')}
        </button>
        <button type="button" class="chip" onClick={() => more('woman')}>
          {say('start.at')}
        </button>
      </div>
      <h2>{say('start.loss')}</h2>
      <div class="chips" role="group" aria-label={say('start.loss')}>
        <For each={lossesByEye}>
          {(ml) => (
            <button
              type="button"
              class="chip"
              aria-pressed={lost() === ml}
              disabled={lost() !== undefined}
              onClick={() => void record({ case: props.caseId, kind: 'loss', payload: { method: 'estimate', amount_ml: ml } })}
            >
              {figure(ml)}
            </button>
          )}
        </For>
        <button type="button" class="chip" onClick={() => more('loss')}>
          {say('start.more')}
        </button>
      </div>
      <Show when={isWide()}>
      <h2>{say('woman.title')}</h2>
      <div class="chips">
        <button type="button" class="chip" onClick={() => more('woman')}>
          {say('start.who')}
        </button>
      </div>
        <LiveProvider value={liveCase(props.caseId)}>
          <FirstSteps />
        </LiveProvider>
      </Show>
      <footer class="foot">
        <button type="button" class="key" onClick={() => void undo()}>
          {say('start.undo')}
        </button>
      </footer>
    </main>
  );
}
