// Who she is, as far as anyone has had time to ask. Each chip is saved by itself; nothing here blocks anything.
import { For, Show, createMemo, createSignal } from 'solid-js';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { TimeChoice } from '../parts/WhenChip.tsx';
import { told } from '../parts/caseFacts.ts';
import { now } from '../parts/clock.ts';
import { choices, useLive } from '../parts/live.tsx';
import { afterPaint } from '../parts/paint.ts';
import { record } from '../parts/recording.ts';
import { rowToCorrect } from '../parts/writing.ts';
import { timeText } from '../store/ids.ts';
import type { Payload } from '../store/entry.ts';
import { clockText } from '../words/figures.ts';
import { westernDigits } from '../words/digits.ts';
import { nameIn, nameOf, say, sentence } from '../words/messages.ts';

const minute = 60_000;
const numbers = ['weight_kg', 'height_cm', 'age_y', 'hb_gl'] as const;
const wordFields = ['birth_mode', 'placenta', 'blood_group'] as const;
const headings: Record<string, string> = { birth_mode: 'woman.mode', placenta: 'woman.placenta', blood_group: 'woman.group' };

export function Woman() {
  const live = useLive();
  const old = rowToCorrect('opened');
  const [typing, setTyping] = createSignal(numbers.some((name) => old?.[name] !== undefined));
  const value = (field: string) => told(live.entries(), field);
  const cautions = () => (value('cautions') as string[] | undefined) ?? undefined;
  const from = () => Object.fromEntries(numbers.filter((name) => typeof value(name) === 'number').map((name) => [name, value(name) as number]));
  // Later answers replace single fields, so a correction is simply the next answer.
  const tell = (payload: Payload) => record({ case: live.id, kind: 'opened', payload });
  const range = (field: string) => choices()!.fields.opened![field]!;
  const fields = createMemo((): PadField[] =>
    (choices() ? numbers : []).map((name) => ({
      name,
      label: say(name === 'hb_gl' ? 'field.hb_before' : `field.${name}`),
      range: range(name),
      decimals: name === 'weight_kg' ? 1 : 0,
    })),
  );
  const tellNumbers = async (values: PadValues) => {
    const changed = Object.entries(values).filter(([name, number]) => number !== value(name));
    if (changed.length === 0 || (await tell(Object.fromEntries(changed)))) setTyping(false);
  };
  let label!: HTMLInputElement;
  return (
    <Sheet title={say('woman.title')}>
      <div class="scroll" tabindex="0" role="region" aria-label={say('woman.title')}>
        <Show when={choices()}>
          <h3>
            {say('woman.birth')}{' '}
            <Show when={value('birth_at')}>{(at) => <span>{clockText(String(at()), now())}</span>}</Show>
          </h3>
          <TimeChoice
            onChoose={(choice) =>
              void tell({ birth_at: timeText('at' in choice ? choice.at : Date.now() - choice.back * minute), birth_estimated: false })
            }
          />
          <For each={wordFields}>
            {(field) => (
              <>
                <h3>{say(headings[field]!)}</h3>
                <div class="chips" role="group" aria-label={say(headings[field]!)}>
                  <For each={range(field).words}>
                    {(word) => (
                      <button type="button" class="chip" aria-pressed={value(field) === word} onClick={() => void tell({ [field]: word })}>
                        {sentence(nameIn('opened', word))}
                      </button>
                    )}
                  </For>
                </div>
              </>
            )}
          </For>
          <h3>{say('woman.numbers')}</h3>
          <div class="chips">
            <button type="button" class="chip" aria-expanded={typing()} onClick={() => setTyping(!typing())}>
              {numbers
                .filter((field) => value(field) !== undefined)
                .map((field) => `${say(field === 'hb_gl' ? 'field.hb_before' : `field.${field}`)} ${String(value(field))}`)
                .join(' · ') || say('add_row')}
            </button>
          </div>
          <Show when={typing()}>
            <div ref={(pad) => afterPaint(() => pad.scrollIntoView({ block: 'end' }))}>
              <Keypad
                kind="opened"
                fields={fields()}
                from={from()}
                saveText={() => say('save')}
                onSave={(values) => void tellNumbers(values)}
              />
            </div>
          </Show>
          <h3>{say('woman.cautions')}</h3>
          <div class="chips" role="group" aria-label={say('woman.cautions')}>
            <button type="button" class="chip" aria-pressed={cautions()?.length === 0} onClick={() => void tell({ cautions: [] })}>
              {say('asked_none')}
            </button>
            <For each={choices()!.cautions}>
              {(caution) => (
                <button
                  type="button"
                  class="chip"
                  aria-pressed={cautions()?.includes(caution) ?? false}
                  onClick={() => {
                    const others = (cautions() ?? []).filter((one) => one !== caution);
                    void tell({ cautions: cautions()?.includes(caution) ? others : [...others, caution] });
                  }}
                >
                  {sentence(nameOf(caution))}
                </button>
              )}
            </For>
          </div>
          <h3>{say('woman.label')}</h3>
          <form
            class="inline"
            onSubmit={(event) => {
              event.preventDefault();
              if (label.value.trim() !== '') void tell({ label: westernDigits(label.value.trim()) });
            }}
          >
            <input ref={label} dir="auto" value={String(value('label') ?? '')} aria-label={say('woman.label')} maxlength="60" autocomplete="off" />
            <button type="submit" class="chip">
              {say('save')}
            </button>
          </form>
        </Show>
      </div>
    </Sheet>
  );
}
