// The bedside: what happened runs up from the now line, what is due waits below it, and under the thumb are the four
// pads and the three ways. None of it changes its place.
import { For, Show, createEffect, createMemo, createSignal, on } from 'solid-js';
import { declinedName } from '../core/dueActs.ts';
import { DueRow } from '../parts/DueRow.tsx';
import { Row } from '../parts/Row.tsx';
import { TakeBack, savedIn } from '../parts/TakeBack.tsx';
import { useLive } from '../parts/live.tsx';
import { go } from '../parts/route.ts';
import { say } from '../words/messages.ts';
import { NowLine } from './NowLine.tsx';

const pads = ['vitals', 'loss', 'gave', 'did'] as const;
const ways = ['wrap', 'course', 'move'] as const;
const shownAtFirst = 2;
const newestRows = 20; // the whole course is one tap away

export function Bedside(props: { covered: boolean; wide: boolean }) {
  const live = useLive();
  let past!: HTMLElement;
  const [all, setAll] = createSignal(false);
  // Rows are known by name and keep their elements from answer to answer: a tap never lands on one just swapped.
  const due = createMemo(() => new Map((live.advice()?.due ?? []).map((one) => [declinedName(one), one])));
  const names = createMemo(() => [...due().keys()]);
  const shown = () => (all() || props.wide ? names() : names().slice(0, shownAtFirst));
  const rows = createMemo(() =>
    live
      .entries()
      .filter((entry) => entry.kind !== 'strike' && !live.struck().has(entry.id))
      .slice(-newestRows),
  );
  // The list lies on the now line and grows upwards, so the newest is in view without being scrolled to, unless someone
  // has looked further back.
  let lookedBack = false;
  createEffect(on(rows, () => lookedBack && past.scrollTo({ top: 0 }), { defer: true }));
  return (
    <div class="bedside" classList={{ expanded: all() && !props.wide, covered: props.covered && !props.wide }}>
      <div class="past-box" classList={{ 'bar-shown': savedIn(live.id) !== undefined }}>
        <section
          class="past"
          ref={past}
          tabindex="0"
          aria-label={say('past.title')}
          onScroll={() => {
            lookedBack = past.scrollTop !== 0;
          }}
        >
          <ol>
            <For each={rows()}>{(entry) => <Row entry={entry} />}</For>
          </ol>
        </section>
        <TakeBack caseId={live.id} />
      </div>
      <NowLine />
      <div class="work" classList={{ covered: props.covered }}>
        <section class="due-box" tabindex={all() ? 0 : undefined} aria-label={say('due.title')}>
          <ul>
            <For each={shown()}>{(name) => <Show when={due().get(name)}>{(one) => <DueRow due={one()} />}</Show>}</For>
          </ul>
          <Show when={live.advice() && due().size === 0}>
            <p class="quiet">{say('due.none')}</p>
          </Show>
        </section>
        <nav class="pads" aria-label={say('pads.title')}>
          <For each={pads}>
            {(pad) => (
              <button type="button" class="key act" onClick={() => go('case', live.id, pad)}>
                {say(pad === 'vitals' ? 'vitals.title' : `${pad}.title`)}
              </button>
            )}
          </For>
        </nav>
        <nav class="ways" aria-label={say('bedside')}>
          <For each={ways}>
            {(way) => (
              <button type="button" class="key" onClick={() => go('case', live.id, way)}>
                {say(`${way}.title`)}
              </button>
            )}
          </For>
          <Show when={props.wide}>
            <button type="button" class="key" onClick={() => go('case', live.id, 'readout')}>
              {say('readout.title')}
            </button>
          </Show>
          <Show when={!props.wide && due().size > shownAtFirst}>
            <button type="button" class="key due-more" aria-expanded={all()} onClick={() => setAll(!all())}>
              {all() ? say('due.fewer') : say('due.more', { n: due().size - shownAtFirst })}
            </button>
          </Show>
        </nav>
      </div>
    </div>
  );
}
