// Blood lost: how it was measured, then how much more or what the container reads now.
import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { now } from '../parts/clock.ts';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowToCorrect, written } from '../parts/writing.ts';
import { type Payload, payloadOf } from '../store/entry.ts';
import { figure, spanText } from '../words/figures.ts';
import { nameIn, say, sentence } from '../words/messages.ts';

const steps = [100, 200, 300, 500]; // mL, the marks of a drape: sizes of keys, not limits
const asked = ['method', 'level_ml', 'amount_ml', 'wet_g', 'dry_g', 'emptied'];
const [lastMethod, setLastMethod] = createSignal('drape');

export function Loss() {
  const live = useLive();
  const old = rowToCorrect('loss');
  const oldNumber = (name: string) => (typeof old?.[name] === 'number' ? (old[name] as number) : undefined);
  const [method, setMethod] = createSignal(old ? String(old.method) : lastMethod());
  const [added, setAdded] = createSignal(oldNumber('amount_ml') ?? 0);
  const [typing, setTyping] = createSignal<'level_ml' | 'amount_ml' | undefined>(oldNumber('level_ml') === undefined ? undefined : 'level_ml');
  const [emptied, setEmptied] = createSignal(old?.emptied === true);
  const from = (): PadValues | undefined => {
    if (!old) return undefined;
    const numbers = padFields().map(({ name }) => [name, name === 'amount_ml' && added() > 0 ? added() : oldNumber(name)] as const);
    return Object.fromEntries(numbers.filter((one): one is [string, number] => one[1] !== undefined));
  };
  const range = (field: string) => choices()!.fields.loss![field]!;
  const total = () => live.advice()?.known.loss;
  const field = (name: string): PadField => ({ name, label: say(`field.${name}`), range: range(name), decimals: 0 });
  const padFields = createMemo(() => {
    const name = typing();
    return name ? [field(name)] : method() === 'weighed' ? [field('wet_g'), field('dry_g')] : [];
  });
  const save = async (payload: Payload) => {
    const whole = { ...(old && payloadOf(old, asked)), method: method(), ...payload, ...(emptied() ? { emptied: true } : {}) };
    if (await record(written(live.id, 'loss', whole))) replace('case', live.id);
  };
  const text = (values: PadValues) => {
    if (values.level_ml !== undefined) return say('loss.save_level', { ml: figure(Number(values.level_ml)) });
    if (values.amount_ml !== undefined) return say('loss.save', { ml: figure(Number(values.amount_ml)) });
    if (values.wet_g !== undefined && values.dry_g !== undefined)
      return say('loss.save_weighed', { wet: figure(Number(values.wet_g)), dry: figure(Number(values.dry_g)) });
    return say('save');
  };
  // With the keypad open there is room for nothing else.
  const keys = () => typing() !== undefined || method() === 'weighed';
  const reads = () => method() === 'drape' || method() === 'suction';
  return (
    <Sheet title={say('loss.title')} writes>
      <Show when={choices()}>
        <div class="scroll" tabindex="0" role="region" aria-label={say('loss.title')}>
          <Show when={!keys()}>
            <p class="lead">
            {total()?.total_ml !== undefined && total()!.at ?
              say('loss.total', { ml: figure(total()!.total_ml!, 0), span: spanText(now() - Date.parse(total()!.at!)) })
            : say('loss.total_none')}
            </p>
          </Show>
          <div class="methods" role="group" aria-label={say('loss.by')}>
            <For each={range('method').words}>
              {(one) => (
                <button
                  type="button"
                  class="chip"
                  classList={{ live: !keys() }}
                  aria-pressed={method() === one}
                  onClick={() => {
                    setMethod(one);
                    if (!old) setLastMethod(one);
                    setTyping(undefined);
                  }}
                >
                  {sentence(nameIn('loss', one))}
                </button>
              )}
            </For>
          </div>
          <Switch>
            <Match when={method() === 'weighed'}>
              <Keypad
                kind="loss"
                fields={padFields()}
                from={from()}
                saveText={text}
                onSave={(values) => values.wet_g !== undefined && values.dry_g !== undefined && void save(values)}
              />
            </Match>
            <Match when={typing()}>
              <Keypad kind="loss" fields={padFields()} from={from()} saveText={text} onSave={(values) => void save(values)} />
            </Match>
            <Match when={true}>
              <h3>{say('loss.more')}</h3>
              <div class="grid-4">
                <For each={steps}>
                  {(step) => (
                    <button type="button" class="key" onClick={() => setAdded(added() + step)}>
                      +{step}
                    </button>
                  )}
                </For>
                <button type="button" class="key" onClick={() => setTyping('amount_ml')}>
                  {say('loss.other')}
                </button>
                <Show when={reads()}>
                  <button type="button" class="key span-2" onClick={() => setTyping('level_ml')}>
                    {say('loss.reading')}
                  </button>
                </Show>
                <button type="button" class="key" disabled={added() === 0} aria-label={say('pad.back')} onClick={() => setAdded(0)}>
                  ⌫
                </button>
              </div>
            </Match>
          </Switch>
          <Show when={reads() && !keys()}>
            <div class="chips above">
              <button type="button" class="chip" aria-pressed={emptied()} onClick={() => setEmptied(!emptied())}>
                {say('loss.empty')}
              </button>
            </div>
          </Show>
        </div>
        <Show when={!typing() && method() !== 'weighed'}>
          <div class="foot">
            <button
              type="button"
              class="key act"
              disabled={added() === 0 && !emptied()}
              onClick={() => void save(added() > 0 ? { amount_ml: added() } : {})}
            >
              {added() === 0 ? say('save') : say('loss.save', { ml: figure(added()) })}
            </button>
          </div>
        </Show>
      </Show>
    </Sheet>
  );
}
