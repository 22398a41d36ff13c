// The line between what happened and what is due: her state in words, and the newest figures, each with its age.
import { Show } from 'solid-js';
import { now } from '../parts/clock.ts';
import { useLive } from '../parts/live.tsx';
import type { Seen } from '../core/answers.ts';
import { figure, spanText } from '../words/figures.ts';
import { commas, message, say, sentence } from '../words/messages.ts';

export function NowLine() {
  const live = useLive();
  const known = () => live.advice()?.known;
  const sign = (name: string): Seen | undefined => {
    const seen = known()?.signs?.[name];
    return typeof seen === 'object' ? seen : undefined;
  };
  const words = (seen: Seen) => (typeof seen.value === 'number' ? figure(seen.value) : message('name.vitals', String(seen.value)));
  const state = () => {
    const phase = live.advice()?.phase;
    const out = phase ? [sentence(message('phase', phase))] : [];
    if (known()?.perfusion?.in_shock === 'yes') out.push(say('now.in_shock'));
    const index = known()?.shock_index?.index;
    if (index) out.push(say('now.index', { index: figure(index, 1) }));
    const womb = known() && live.entries().findLast((entry) => entry.kind === 'finding' && entry.what === 'tone' && !live.struck().has(entry.id));
    if (womb) out.push(`${message('name', 'finding.tone')} ${message('name', `finding.${String(womb.value)}`)}`);
    return commas(out);
  };
  const age = (seen: Seen) => spanText(now() - Date.parse(seen.at));
  const loss = () => known()?.loss;
  return (
    <section class="now-line" aria-label={say('now')} role="status">
      <p class="state">
        <b>{state()}</b>
      </p>
      <p class="figures">
        <Show when={sign('pulse')} fallback={<span class="quiet">{say('now.nothing')}</span>}>
          {(pulse) => (
            <span dir="ltr">
              <b>{words(pulse())}</b>/min
            </span>
          )}
        </Show>
        <Show when={sign('sbp')}>
          {(sbp) => (
            <span>
              <bdi dir="ltr">
                <b>
                  {words(sbp())}
                  {sign('dbp') ? `/${words(sign('dbp')!)}` : ''}
                </b>{' '}
                mmHg
              </bdi>{' '}
              <span class="quiet">{age(sbp())}</span>
            </span>
          )}
        </Show>
        <Show when={loss()?.total_ml !== undefined && loss()}>
          {(lost) => (
            <span>
              <bdi dir="ltr">
                <b>{figure(lost().total_ml!, 0)}</b> mL
              </bdi>{' '}
              {say('now.lost')} <span class="quiet">{lost().at ? spanText(now() - Date.parse(lost().at!)) : ''}</span>
            </span>
          )}
        </Show>
      </p>
    </section>
  );
}
