// Why an act is due: each reason with its figure, limit and source; and the way to say that it will not be done now.
import { Show, createMemo } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { declinedName } from '../core/dueActs.ts';
import { NotNow } from '../parts/NotNow.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { now } from '../parts/clock.ts';
import { useLive } from '../parts/live.tsx';
import { replace } from '../parts/route.ts';
import { dueText, standingText } from '../words/adviceText.ts';
import { say } from '../words/messages.ts';

export function DueWhy(props: { name: string }) {
  const live = useLive();
  const due = createMemo<Due | undefined>(
    (before) => live.advice()?.due.find((one) => declinedName(one) === props.name) ?? before,
  );
  return (
    <Sheet title={say('due.why')}>
      <Show when={due()}>
        {(one) => (
          <div class="scroll" tabindex="0" role="region" aria-label={say('due.why')}>
            <p class="lead">{dueText(one())}</p>
            <p>{standingText(one(), now())}</p>
            <Reasons reasons={one().reasons} />
            <h3>{say('due.not_now')}</h3>
            <NotNow advice={props.name} onSaid={() => replace('case', live.id)} />
          </div>
        )}
      </Show>
      <div class="sheet-foot">
        <button type="button" class="key wide" onClick={() => replace('case', live.id, 'readout')}>
          {say('readout.title')}
        </button>
      </div>
    </Sheet>
  );
}
