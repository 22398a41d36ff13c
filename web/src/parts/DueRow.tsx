// One thing that is due, since when, and the key that does it or leads to where it is done.
import { Show, createSignal } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { declinedName, dueAct } from '../core/dueActs.ts';
import { dueText, standingText } from '../words/adviceText.ts';
import { say } from '../words/messages.ts';
import { now } from './clock.ts';
import { choices, useLive } from './live.tsx';
import { marks } from './marks.ts';
import { record } from './recording.ts';
import { go } from './route.ts';

const longRow = 50; // letters that fit at full size

export function DueRow(props: { due: Due }) {
  const live = useLive();
  const [done, setDone] = createSignal(false);
  const act = () => dueAct(props.due, choices()!);
  const tap = async () => {
    const what = act();
    if ('go' in what) return go('case', live.id, what.go, what.subject ?? '');
    setDone(await record({ case: live.id, ...what.done }));
  };
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
          disabled={done()}
          aria-label={`${'go' in act() ? say('due.go') : say('due.done')} ${dueText(props.due)}`}
          onClick={() => void tap()}
        >
          {done() ? '✓' : 'go' in act() ? say('due.go') : say('due.done')}
        </button>
      </Show>
    </li>
  );
}
