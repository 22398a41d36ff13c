// For ten seconds after each save: what was saved, and the way to take it back. It lies over the past rows, so that
// nothing else moves when it comes and goes.
import { Show, createEffect, onCleanup } from 'solid-js';
import { type Saved, forgetLastSaved, lastSaved, takeBack } from '../store/record.ts';
import { sendSoon } from '../sync/link.ts';
import { entryText } from '../words/entryText.ts';
import { reasonText } from '../words/adviceText.ts';
import { clockText } from '../words/figures.ts';
import { say } from '../words/messages.ts';
import { useOpen } from './Kept.tsx';
import { now } from './clock.ts';
import { choices } from './live.tsx';
import { warnings } from './recording.ts';
import { go } from './route.ts';

const lasts = 10_000;

/** What was saved in this case in the last seconds and can be taken back. */
export function savedIn(caseId: string): Saved | undefined {
  const last = lastSaved();
  return last?.case === caseId && last.entries.some((entry) => entry.kind !== 'strike') ? last : undefined;
}

export function TakeBack(props: { caseId: string }) {
  const isOpen = useOpen();
  const saved = () => (isOpen() ? savedIn(props.caseId) : undefined);
  createEffect(() => {
    const last = saved();
    if (last === undefined) return;
    const timer = setTimeout(forgetLastSaved, Math.max(0, last.at + lasts - Date.now()));
    onCleanup(() => clearTimeout(timer));
  });
  return (
    <div class="take-back" role="status">
      <Show when={saved()}>
        {(last) => (
          <div class="take-back-bar">
            <button
              type="button"
              class="take-back-what"
              onClick={() => go('case', props.caseId, 'row', last().entries[0]!.id)}
            >
              {say('saved', { time: clockText(last().entries[0]!.at, now()) })} {entryText(last().entries[0]!, choices())}
              <Show when={last().entries.length > 1}> +{last().entries.length - 1}</Show>
              <Show when={warnings()?.reasons[0]}>
                {(reason) => <b> {say('saved.check', { reason: reasonText(reason(), now()) })}</b>}
              </Show>
            </button>
            <button
              type="button"
              class="key"
              onClick={() => {
                void takeBack(last()).then(sendSoon);
              }}
            >
              {say('take_back')}
            </button>
          </div>
        )}
      </Show>
    </div>
  );
}
