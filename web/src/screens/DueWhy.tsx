// Why an act is due: each reason with its figure, limit and source; and the way to say that it will not be done now.
import { For, Show, createMemo } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { declinedName } from '../core/dueActs.ts';
import { Reasons } from '../parts/Reasons.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { now } from '../parts/clock.ts';
import { useLive } from '../parts/live.tsx';
import { keepAs } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { dueText, standingText } from '../words/adviceText.ts';
import { say } from '../words/messages.ts';

const declining = ['done_not_written', 'not_possible', 'other_first', 'senior_decided'];

export function DueWhy(props: { name: string }) {
  const live = useLive();
  const due = createMemo<Due | undefined>(
    (before) => live.advice()?.due.find((one) => declinedName(one) === props.name) ?? before,
  );
  const decline = async (why: string) => {
    await keepAs({ case: live.id, kind: 'advice_declined', payload: { advice: props.name, why } });
    replace('case', live.id);
  };
  return (
    <Sheet title={say('due.why')}>
      <Show when={due()}>
        {(one) => (
          <div class="scroll" tabindex="0" role="region" aria-label={say('due.why')}>
            <p class="lead">{dueText(one())}</p>
            <p>{standingText(one(), now())}</p>
            <Reasons reasons={one().reasons} />
            <h3>{say('due.not_now')}</h3>
            <div class="chips" role="group" aria-label={say('due.not_now')}>
              <For each={declining}>
                {(why) => (
                  <button type="button" class="chip" onClick={() => void decline(why)}>
                    {say(`why.${why}`)}
                  </button>
                )}
              </For>
            </div>
          </div>
        )}
      </Show>
    </Sheet>
  );
}
