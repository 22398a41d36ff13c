// Where she is and where she goes: each step of a move is one tap.
import { For, Show, createMemo, createSignal } from 'solid-js';
import { Sheet } from '../parts/Sheet.tsx';
import { facilitiesOf } from '../parts/caseFacts.ts';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowToCorrect, written } from '../parts/writing.ts';
import type { Payload } from '../store/entry.ts';
import { cases } from '../store/record.ts';
import { nameIn, nameOf, say, sentence } from '../words/messages.ts';

const steps = ['decided', 'left', 'arrived', 'handed_over'] as const;
const levels = ['primary', 'hospital'] as const;

export function Move() {
  const live = useLive();
  const place = () => live.advice()?.known.place;
  const [where, setWhere] = createSignal<string | undefined>();
  const [to, setTo] = createSignal<string | undefined>();
  const facilities = createMemo(() => facilitiesOf(cases()));
  const old = rowToCorrect('finding');
  const at = () => where() ?? place()?.where ?? 'ward';
  const destination = () =>
    to() ?? live.entries().findLast((entry) => entry.kind === 'place' && typeof entry.to === 'string' && !live.struck().has(entry.id))?.to;
  const step = (state: (typeof steps)[number]) => {
    const going = state === 'decided' || state === 'left';
    const there = where() ?? (going || place()?.where !== 'ambulance' ? at() : String(destination() ?? 'ward'));
    void put('place', { where: state === 'left' ? 'ambulance' : there, state, ...(going && destination() ? { to: destination() } : {}) });
    setWhere(undefined); // from here on she is where the record says
  };
  const put = async (kind: string, payload: Payload) => {
    if ((await record(written(live.id, kind, payload))) && old) replace('case', live.id);
  };
  const said = (item: string) => (old ? old.what === item : live.entries().some((entry) => entry.kind === 'finding' && entry.what === item && !live.struck().has(entry.id)));
  return (
    <Sheet title={say('move.title')} writes>
      <div class="scroll" tabindex="0" role="region" aria-label={say('move.title')}>
        <Show when={choices()}>
          <h3>{say('move.place')}</h3>
          <div class="chips" role="group" aria-label={say('move.place')}>
            <For each={[...choices()!.places, ...facilities()]}>
              {(one) => (
                <button type="button" class="chip" aria-pressed={at() === one} onClick={() => setWhere(one)}>
                  {sentence(nameIn('place', one))}
                </button>
              )}
            </For>
          </div>
          <Show when={facilities().length > 0}>
            <h3>{say('move.to')}</h3>
            <div class="chips" role="group" aria-label={say('move.to')}>
              <For each={facilities().filter((one) => one !== at())}>
                {(one) => (
                  <button type="button" class="chip" aria-pressed={destination() === one} onClick={() => setTo(one)}>
                    {nameOf(one)}
                  </button>
                )}
              </For>
            </div>
          </Show>
          <h3>{say('move.steps')}</h3>
          <div class="ways-down">
            <For each={steps}>
              {(state) => (
                <button
                  type="button"
                  class="key"
                  onClick={() => step(state)}
                >
                  {say(`move.${state}`)}
                </button>
              )}
            </For>
          </div>
          <h3>{say('move.level')}</h3>
          <div class="chips" role="group" aria-label={say('move.level')}>
            <For each={levels}>
              {(level) => (
                <button type="button" class="chip" onClick={() => void put('place', { where: at(), state: 'arrived', level })}>
                  {sentence(nameIn('place', level))}
                </button>
              )}
            </For>
          </div>
          <h3>{say('move.before')}</h3>
          <div class="chips" role="group" aria-label={say('move.before')}>
            <For each={choices()!.before_leaving}>
              {(item) => (
                <button type="button" class="chip" aria-pressed={said(item)} onClick={() => void put('finding', { what: item, value: 'yes' })}>
                  {sentence(nameOf(item))}
                </button>
              )}
            </For>
            <button
              type="button"
              class="chip"
              aria-pressed={said('read_back')}
              onClick={() => void put('finding', { what: 'read_back', value: 'ok' })}
            >
              {say('move.read_back')}
            </button>
          </div>
        </Show>
      </div>
      <div class="sheet-foot">
        <button type="button" class="key act wide" onClick={() => replace('case', live.id, 'code')}>
          {say('move.show_code')}
        </button>
      </div>
    </Sheet>
  );
}
