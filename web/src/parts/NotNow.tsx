// Why an act will not be done now: one tap writes it down.
import { For } from 'solid-js';
import { useLive } from './live.tsx';
import { keepAs } from './recording.ts';
import { say } from '../words/messages.ts';

const declining = ['done_not_written', 'not_possible', 'other_first', 'senior_decided'];

export function NotNow(props: { advice: string; onSaid: () => void }) {
  const live = useLive();
  const decline = async (why: string) => {
    await keepAs({ case: live.id, kind: 'advice_declined', payload: { advice: props.advice, why } });
    props.onSaid();
  };
  return (
    <div class="chips" role="group" aria-label={say('due.not_now')}>
      <For each={declining}>
        {(why) => (
          <button type="button" class="chip live" onClick={() => void decline(why)}>
            {say(`why.${why}`)}
          </button>
        )}
      </For>
    </div>
  );
}
