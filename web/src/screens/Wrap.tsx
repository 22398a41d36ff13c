// The garment: each band as it lies on her, top to bottom. Putting on goes from the ankles up by one tap a band; opening
// takes two taps and asks the core first; everything can be closed again in two.
import { For, Match, Show, Switch, createSignal } from 'solid-js';
import { Sheet } from '../parts/Sheet.tsx';
import { TakeBack } from '../parts/TakeBack.tsx';
import { now } from '../parts/clock.ts';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { written } from '../parts/writing.ts';
import type { Payload } from '../store/entry.ts';
import { watchText } from '../words/adviceText.ts';
import { clockText, spanText } from '../words/figures.ts';
import { commas, nameIn, nameOf, say, sentence } from '../words/messages.ts';
import { OpeningRule } from './OpeningRule.tsx';
import { PutOn } from './PutOn.tsx';

type Mode = 'bands' | 'loose' | 'again';

export function Wrap() {
  const live = useLive();
  const [mode, setMode] = createSignal<Mode>('bands');
  const [picked, setPicked] = createSignal<string | undefined>();
  const [chosenReason, setReason] = createSignal<string | undefined>();
  const [choosing, setChoosing] = createSignal(false);
  const reason = () => chosenReason() ?? (known()?.theatre?.under_way ? 'theatre' : 'unwrap');
  const known = () => live.advice()?.known;
  const garment = () => known()?.garment;
  const unwrap = () => known()?.unwrap;
  const put = async (kind: string, ...payloads: Payload[]) =>
    record(...payloads.map((payload) => written(live.id, kind, payload)));
  const segments = () => (choices()?.segments ?? []).toReversed();

  /** The panels of a band: one, or a left and a right one. */
  const panels = (id: string) =>
    Object.entries(garment()?.panels ?? {}).filter(([name]) => name === id || name === `${id}_left` || name === `${id}_right`);
  const stateOf = (id: string) => {
    const states = new Set(panels(id).map(([, panel]) => panel.state));
    return states.size === 0 ? 'none' : states.size === 1 ? [...states][0]! : 'part';
  };
  const isOn = (id: string) => ['closed', 'loose'].includes(stateOf(id));
  const sinceOf = (id: string) => panels(id).map(([, panel]) => panel.since).find(Boolean);
  const words = (id: string) => {
    const state = stateOf(id);
    const since = sinceOf(id);
    const name = { closed: say('wrap.closed'), open: say('wrap.open'), loose: say('wrap.loosen'), none: say('wrap.not_on'), not_closed: say('wrap.not_on') }[state] ?? state;
    return since ? say('wrap.since', { state: name, span: spanText(now() - Date.parse(since)) }) : name;
  };

  // What the next tap on a band is for, on the band itself: no line of its own that would push the bands about.
  const hint = (id: string) => {
    if (garment()?.next_to_close === id && !isOn(id) && !unwrap()?.under_way) return say('wrap.tap_next');
    const ends = unwrap()?.wait_ends;
    if (unwrap()?.next === id && ends && Date.parse(ends) > now()) return `${say('wrap.wait', { time: clockText(ends, now()) })} · ${words(id)}`;
    return words(id);
  };
  const tap = async (id: string) => {
    if (mode() === 'loose') {
      await put('garment', { action: 'check', segment: id, tension: 'loose' });
      setMode('bands');
    } else if (stateOf(id) === 'closed') setPicked(picked() === id ? undefined : id);
    else await put('garment', { action: 'close', segment: id, tension: 'ok' });
  };
  const openPicked = async () => {
    await put('garment', { action: 'open', segment: picked(), side: 'both', reason: reason() });
    setPicked(undefined);
    setReason(undefined);
  };
  const openBands = () => (choices()?.segments ?? []).filter((one) => !isOn(one.id)).map((one) => one.id);
  const againOrder = () => {
    const order = unwrap()?.reclose_order ?? [];
    return order.length > 0 ? order : openBands();
  };
  const closeAgain = async () => {
    await put('garment', ...againOrder().map((segment) => ({ action: 'close', segment, tension: 'ok' })));
    setMode('bands');
  };
  const limits = () => (live.advice()?.watch ?? []).filter((watch) => ['pulse_ceiling', 'systolic_floor'].includes(watch.id));
  const anyOn = () => (choices()?.segments ?? []).some((one) => isOn(one.id));

  return (
    <Sheet title={say('wrap.title')} writes>
      <div class="scroll" tabindex="0" role="region" aria-label={say('wrap.title')}>
        <Show when={live.advice() && choices()}>
          <Show when={garment()?.on} fallback={<PutOn />}>
            <ol class="bands">
              <For each={segments()}>
                {(one) => (
                  <li>
                    <button
                      type="button"
                      class="band"
                      data-state={stateOf(one.id)}
                      aria-pressed={picked() === one.id}
                      onClick={() => void tap(one.id)}
                    >
                      <b>{sentence(nameOf(one.id))}</b>
                      <span>
                        {hint(one.id)}
                      </span>
                    </button>
                  </li>
                )}
              </For>
            </ol>
            <p class="lead">
              {say('wrap.garment_on', {
                id: garment()?.garment_id ?? '',
                since: spanText(now() - Date.parse(garment()?.placed_at ?? '')),
              })}
            </p>
            <Show when={limits().length > 0}>
              <h3>{say('wrap.limits')}</h3>
              <ul class="plain-list">
                <For each={limits()}>{(watch) => <li>{watchText(watch, now())}</li>}</For>
              </ul>
            </Show>
            <OpeningRule />
          </Show>
          <h3>{say('wrap.theatre')}</h3>
          <div class="grid-3">
            <For each={['planned', 'knife_to_skin', 'closed']}>
              {(state) => (
                <button type="button" class="key" onClick={() => void put('surgery', { state })}>
                  {say({ planned: 'wrap.theatre_planned', knife_to_skin: 'wrap.knife', closed: 'wrap.theatre_closed' }[state]!)}
                </button>
              )}
            </For>
          </div>
        </Show>
      </div>
      <Show when={garment()?.on && choices()}>
        <div class="sheet-foot">
          <Switch
            fallback={
              <div class="foot-row">
                <button type="button" class="key" onClick={() => void put('garment', { action: 'check', tension: 'ok' })}>
                  {say('wrap.check_done')}
                </button>
                <button type="button" class="key" onClick={() => setMode('loose')}>
                  {say('wrap.loose')}
                </button>
                <Show when={openBands().length > 0}>
                  <button type="button" class="key" onClick={() => setMode('again')}>
                    {anyOn() && unwrap()?.under_way ? say('wrap.again') : say('wrap.all_on')}
                  </button>
                </Show>
                <Show when={!anyOn()}>
                  <button type="button" class="key" onClick={() => void put('garment', { action: 'off' })}>
                    {say('wrap.off')}
                  </button>
                </Show>
              </div>
            }
          >
            <Match when={picked()}>
              {(id) => (
                <>
                  <Show when={choosing()}>
                    <div class="chips" role="group" aria-label={say('wrap.open_reason')}>
                      <For each={choices()!.fields.garment!.reason!.words}>
                        {(word) => (
                          <button
                            type="button"
                            class="chip"
                            aria-pressed={reason() === word}
                            onClick={() => {
                              setReason(word);
                              setChoosing(false);
                            }}
                          >
                            {sentence(nameIn('garment', word))}
                          </button>
                        )}
                      </For>
                    </div>
                  </Show>
                  <div class="foot-row">
                    <button type="button" class="key" aria-expanded={choosing()} onClick={() => setChoosing(!choosing())}>
                      {say('wrap.for', { reason: nameIn('garment', reason()) })}
                    </button>
                    <button type="button" class="key act grow" onClick={() => void openPicked()}>
                      {say('wrap.open_now', { what: nameOf(id()) })}
                    </button>
                  </div>
                </>
              )}
            </Match>
            <Match when={mode() === 'loose'}>
              <div class="foot-row">
                <p class="strong grow" role="status">
                  {say('wrap.which_loose')}
                </p>
                <button type="button" class="key" onClick={() => setMode('bands')}>
                  {say('wrap.none_loose')}
                </button>
              </div>
            </Match>
            <Match when={mode() === 'again'}>
              <div class="foot-row">
                <button type="button" class="key act grow" onClick={() => void closeAgain()}>
                  {say('wrap.again_confirm', { what: commas(againOrder().map(nameOf)) })}
                </button>
                <button type="button" class="key" onClick={() => setMode('bands')}>
                  {say('wrap.as_it_is')}
                </button>
              </div>
            </Match>
          </Switch>
        </div>
      </Show>
      <TakeBack caseId={live.id} />
    </Sheet>
  );
}
