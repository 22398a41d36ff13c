// What must hold before the first panel may be opened, condition by condition, and the answers that only people have.
import { For, Show } from 'solid-js';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { written } from '../parts/writing.ts';
import { reasonText } from '../words/adviceText.ts';
import { now } from '../parts/clock.ts';
import { message, nameIn, say, sentence } from '../words/messages.ts';

const marks: Record<string, string> = { yes: '✓', no: '✕', unknown: '?' };

export function OpeningRule() {
  const live = useLive();
  const readiness = () => live.advice()?.known.readiness;
  const answers = () => choices()!.findings.filter((finding) => ['iv_running', 'qualified_clinician', 'helper'].includes(finding.id));
  const latest = (what: string) =>
    live.entries().findLast((entry) => entry.kind === 'finding' && entry.what === what && !live.struck().has(entry.id))?.value;
  return (
    <Show when={readiness()?.conditions}>
      {(conditions) => (
        <>
          <h3>{say('wrap.not_yet')}</h3>
          <ul class="conditions">
            <For each={conditions()}>
              {(one) => (
                <li>
                  <span aria-hidden="true">{marks[one.met] ?? '?'}</span> {say(`condition.${one.id}`)}{' '}
                  <span class="quiet">
                    {message('name.finding', one.met)} · <bdi class="source">{one.rule}</bdi>
                  </span>
                </li>
              )}
            </For>
            <For each={live.advice()!.known.unwrap?.reasons ?? []}>{(reason) => <li class="quiet">{reasonText(reason, now())}</li>}</For>
          </ul>
          <For each={answers()}>
            {(finding) => (
              <div class="role">
                <span>{sentence(nameIn('finding', finding.id))}</span>
                <For each={finding.values}>
                  {(value) => (
                    <button
                      type="button"
                      class="chip"
                      aria-label={`${sentence(nameIn('finding', finding.id))} ${nameIn('finding', value)}`}
                      aria-pressed={latest(finding.id) === value}
                      onClick={() => void record(written(live.id, 'finding', { what: finding.id, value }))}
                    >
                      {sentence(nameIn('finding', value))}
                    </button>
                  )}
                </For>
              </div>
            )}
          </For>
        </>
      )}
    </Show>
  );
}
