// One case: the strip that never leaves, the bedside, and at most one thing open over it.
import { Match, Show, Switch, createEffect, lazy, onCleanup } from 'solid-js';
import { NumbersPad } from '../pads/Numbers.tsx';
import { Did } from '../pads/Did.tsx';
import { Gave } from '../pads/Gave.tsx';
import { Loss } from '../pads/Loss.tsx';
import { RowWords } from '../pads/RowWords.tsx';
import { Vitals } from '../pads/Vitals.tsx';
import { Kept } from '../parts/Kept.tsx';
import { LinkMark } from '../parts/LinkMark.tsx';
import { bornShort, labelOf } from '../parts/caseFacts.ts';
import { now } from '../parts/clock.ts';
import { LiveProvider, liveCase } from '../parts/live.tsx';
import { setRefusal, refusal } from '../parts/recording.ts';
import { go, replace, route } from '../parts/route.ts';
import { startWriting } from '../parts/writing.ts';
import { isWide } from '../parts/wide.ts';
import { clockText } from '../words/figures.ts';
import { say } from '../words/messages.ts';
import { Bedside } from './Bedside.tsx';
import { Course } from './Course.tsx';
import { DueWhy } from './DueWhy.tsx';
import { Move } from './Move.tsx';
import { Readout } from './Readout.tsx';
import { RowSheet } from './RowSheet.tsx';
import { Woman } from './Woman.tsx';
import { Wrap } from './Wrap.tsx';

// Loaded when it is asked for, as all that draws or reads symbols.
const ShowSlip = lazy(async () => ({ default: (await import('./ShowSlip.tsx')).ShowSlip }));

export function CaseFrame(props: { caseId: string }) {
  const live = liveCase(props.caseId);
  const open = () => route().open;
  createEffect(() => {
    if (open() === '') startWriting();
    setRefusal(undefined);
  });
  const keys = (event: KeyboardEvent) => {
    if (event.key === 'Escape' && open() !== '' && !document.querySelector('dialog[open]')) replace('case', props.caseId);
  };
  addEventListener('keydown', keys);
  onCleanup(() => removeEventListener('keydown', keys));
  return (
    <LiveProvider value={live}>
      <main class="case">
        <header class="strip">
          <button type="button" class="key strip-case" aria-label={`${say('strip.cases')}: ${labelOf(live.entries())}`} onClick={() => go()}>
            ‹ <b>{labelOf(live.entries())}</b>
          </button>
          <button type="button" class="key strip-born" onClick={() => go('case', props.caseId, 'woman')}>
            {bornShort(live.entries(), now())}
          </button>
          <time>{clockText(now())}</time>
          <LinkMark short={!isWide()} />
        </header>
        <Bedside covered={open() !== ''} wide={isWide()} />
        <Show when={refusal()}>
          {(text) => (
            <p class="refusal" role="alert">
              {text()}
            </p>
          )}
        </Show>
        <Kept name="vitals">
          <Vitals />
        </Kept>
        <Kept name="loss">
          <Loss />
        </Kept>
        <Kept name="gave">
          <Gave tab={route().open === 'gave' ? route().subject : ''} />
        </Kept>
        <Kept name="did">
          <Did tab={route().open === 'did' ? route().subject : ''} />
        </Kept>
        <Kept name="wrap">
          <Wrap />
        </Kept>
        <Kept name="move">
          <Move />
        </Kept>
        <Switch>
          <Match when={open() === 'results'}>
            <NumbersPad kind="lab" title={say('did.results')} />
          </Match>
          <Match when={open() === 'urine'}>
            <NumbersPad kind="urine" title={say('urine.title')} />
          </Match>
          <Match when={open() === 'course'}>
            <Course />
          </Match>
          <Match when={open() === 'code'}>
            <ShowSlip />
          </Match>
          <Match when={open() === 'readout'}>
            <Readout />
          </Match>
          <Match when={open() === 'woman'}>
            <Woman />
          </Match>
          <Match when={open() === 'why'}>
            <DueWhy name={route().subject} />
          </Match>
          <Match when={open() === 'words'}>
            <RowWords />
          </Match>
          <Match when={open() === 'row'}>
            <RowSheet id={route().subject} />
          </Match>
        </Switch>
      </main>
    </LiveProvider>
  );
}
