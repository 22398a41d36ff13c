// One thing that is due, since when, and the key that does it or leads to where it is done.
import { Show } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { declinedName } from '../core/dueActs.ts';
import { dueText, standingText } from '../words/adviceText.ts';
import { say } from '../words/messages.ts';
import { now } from './clock.ts';
import { useDueKey } from './dueDoing.ts';
import { choices, useLive } from './live.tsx';
import { marks } from './marks.ts';
import { go } from './route.ts';

const longRow = 50; // letters that fit at full size

export function DueRow(props: { due: Due }) {
  const live = useLive();
  const key = useDueKey(() => props.due);
  return (
    <li class={`due ${props.due.priority}`}>
      <button type="button" class="due-text" classList={{ long: dueText(props.due).length > longRow }} onClick={() => go('case', live.id, 'why', declinedName(props.due))}>
        <span class={`mark ${props.due.priority}`} aria-hidden="true">
          {marks[props.due.priority]}
        </span>
        <span>
          <b>{dueText(props.due)}</b> <span class="standing">{standingText(props.due, now())}</span>
        </span>
      </button>
      <Show when={choices()}>
        <button
          type="button"
          class="due-act"
          disabled={key.done()}
          aria-label={`${key.goes() ? say('due.go') : say('due.done')} ${dueText(props.due)}`}
          onClick={() => void key.tap()}
        >
          {key.done() ? '✓' : key.goes() ? say('due.go') : say('due.done')}
        </button>
      </Show>
    </li>
  );
}
