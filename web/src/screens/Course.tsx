// Every row of the case, newest first, with those that were corrected or taken back on request.
import { For, Show, createMemo, createSignal } from 'solid-js';
import { Row } from '../parts/Row.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { useLive } from '../parts/live.tsx';
import { noticeText, reasonText, watchText } from '../words/adviceText.ts';
import { now } from '../parts/clock.ts';
import { message, say } from '../words/messages.ts';

export function Course() {
  const live = useLive();
  const [corrected, setCorrected] = createSignal(false);
  const rows = createMemo(() =>
    live
      .entries()
      .filter((entry) => corrected() || (entry.kind !== 'strike' && !live.struck().has(entry.id)))
      .toReversed(),
  );
  return (
    <Sheet title={say('course.title')}>
      <div class="scroll" tabindex="0" role="region" aria-label={say('course.title')}>
        <Show when={live.advice()?.notices.length}>
          <h3>{say('notices.title')}</h3>
          <ul class="plain-list">
            <For each={live.advice()!.notices}>
              {(notice) => (
                <li>
                  {noticeText(notice)}
                  <For each={notice.reasons}>{(reason) => <span class="quiet"> {reasonText(reason, now())}</span>}</For>
                </li>
              )}
            </For>
          </ul>
        </Show>
        <Show when={live.advice()?.unknown.length}>
          <h3>{say('unknown.title')}</h3>
          <ul class="plain-list">
            <For each={live.advice()!.unknown}>{(one) => <li>{message('unknown', one.id)}</li>}</For>
          </ul>
        </Show>
        <Show when={live.advice()?.watch.length}>
          <h3>{say('wrap.limits')}</h3>
          <ul class="plain-list">
            <For each={live.advice()!.watch}>{(watch) => <li>{watchText(watch, now())}</li>}</For>
          </ul>
        </Show>
        <div class="chips above">
          <button type="button" class="chip" aria-pressed={corrected()} onClick={() => setCorrected(!corrected())}>
            {say('course.corrected')}
          </button>
        </div>
        <ol class="rows">
          <For each={rows()} fallback={<li class="quiet">{say('course.empty')}</li>}>
            {(entry) => <Row entry={entry} struck={live.struck().has(entry.id)} />}
          </For>
        </ol>
      </div>
    </Sheet>
  );
}
