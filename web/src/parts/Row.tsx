// One thing that happened: its time, what it was, and whether it was written later.
import { Show } from 'solid-js';
import type { Entry } from '../store/entry.ts';
import { happenedAt } from '../store/entry.ts';
import { entryText } from '../words/entryText.ts';
import { clockText, spanText } from '../words/figures.ts';
import { say, sentence } from '../words/messages.ts';
import { now } from './clock.ts';
import { choices, useLive } from './live.tsx';
import { go } from './route.ts';
import { outbox } from '../store/record.ts';

const lateAfter = 60_000;

export function Row(props: { entry: Entry; struck?: boolean }) {
  const live = useLive();
  const later = () => Date.parse(props.entry.written) - Date.parse(props.entry.at);
  return (
    <li>
      <button
        type="button"
        class="row"
        classList={{ struck: props.struck }}
        onClick={() => go('case', live.id, 'row', props.entry.id)}
      >
        <time>{clockText(happenedAt(props.entry), now())}</time>
        <span>
          {sentence(entryText(props.entry, choices()))}
          <Show when={props.struck}> ({say('course.struck')})</Show>
          <Show when={props.entry.note}>
            {(note) => <span class="quiet"> {note()}</span>}
          </Show>
          <Show when={later() > lateAfter}>
            <span class="quiet"> ⤴ {say('course.later', { span: spanText(later()) })}</span>
          </Show>
        </span>
        <Show when={outbox().has(props.entry.id)}>
          <span class="unsent" aria-hidden="true">
            ·
          </span>
        </Show>
      </button>
    </li>
  );
}
