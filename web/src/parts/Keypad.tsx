// One keypad for every number: fields on top, the value large with its unit and the last one beside it, then the keys.
// Each key is one digit; what could only lead out of range is dimmed. A complete field hands over to the next.
import { For, Show, createMemo, createSignal, untrack } from 'solid-js';
import type { FieldRange } from '../core/answers.ts';
import { figure, spanText } from '../words/figures.ts';
import { message, nameIn, say } from '../words/messages.ts';
import { now } from './clock.ts';
import { grammarOf, isComplete, pressed, typedText, valueOf } from './grammar.ts';

export interface PadField {
  name: string;
  label: string;
  range: FieldRange;
  decimals: number;
  last?: { value: number | string; at: string };
}

export type PadValues = Record<string, number | string>;

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];
const textOf = (field: PadField, value: number | string | undefined) =>
  typeof value === 'number' ? typedText(value, grammarOf(field.range, field.decimals)) : '';
const unitText = (unit: string | undefined) => (unit ? message('unit', unit) : '');

export function Keypad(props: {
  kind: string;
  fields: PadField[];
  from?: PadValues; // what was written, when that is corrected
  saveText: (values: PadValues) => string;
  onSave: (values: PadValues) => void;
}) {
  const written = untrack(() => props.from ?? {});
  const [texts, setTexts] = createSignal<Record<string, string>>(
    Object.fromEntries(untrack(() => props.fields).map((one) => [one.name, textOf(one, written[one.name])])),
  );
  const [words, setWords] = createSignal<Record<string, string>>(
    Object.fromEntries(Object.entries(written).filter((one): one is [string, string] => typeof one[1] === 'string')),
  );
  // The first digit on what was written begins the number anew; the back key takes one digit off it.
  const [untouched, setUntouched] = createSignal<ReadonlySet<string>>(new Set(Object.keys(written)));
  const [active, setActive] = createSignal(0);
  const field = () => props.fields[active()]!;
  const grammar = createMemo(() => grammarOf(field().range, field().decimals));
  const text = () => texts()[field().name] ?? '';
  const onlyWords = () => field().range.type === 'word';

  const values = createMemo<PadValues>(() => {
    const out: PadValues = {};
    for (const one of props.fields) {
      const word = words()[one.name];
      const value = word ?? valueOf(texts()[one.name] ?? '', grammarOf(one.range, one.decimals));
      if (value !== undefined) out[one.name] = value;
    }
    return out;
  });
  const unfinished = () =>
    props.fields.some((one) => (texts()[one.name] ?? '') !== '' && values()[one.name] === undefined);

  const next = () => setActive((active() + 1) % props.fields.length);
  const after = (key: string) => {
    if (key === 'back') return words()[field().name] ? '' : pressed(text(), key, grammar());
    return pressed(untouched().has(field().name) ? '' : text(), key, grammar());
  };
  const touch = () => setUntouched(new Set([...untouched()].filter((name) => name !== field().name)));
  const press = (key: string) => {
    const typed = after(key);
    if (typed === undefined) return;
    touch();
    setWords({ ...words(), [field().name]: undefined as never });
    setTexts({ ...texts(), [field().name]: typed });
    if (key !== 'back' && active() < props.fields.length - 1 && isComplete(typed, grammar())) next();
  };
  const chooseWord = (word: string) => {
    const again = words()[field().name] === word;
    touch();
    setTexts({ ...texts(), [field().name]: '' });
    setWords({ ...words(), [field().name]: again ? (undefined as never) : word });
    if (!again && active() < props.fields.length - 1) next();
  };
  const shown = (one: PadField) => {
    const word = words()[one.name];
    return word ? (props.kind === 'vitals' && word.length === 1 ? word : nameIn(props.kind, word)) : (texts()[one.name] ?? '');
  };
  const valueText = (value: number | string) => (typeof value === 'number' ? figure(value) : nameIn(props.kind, value));
  const key = (name: string, label: string, spoken: string) => (
    <button
      type="button"
      class="pad-key"
      aria-label={spoken}
      disabled={after(name) === undefined}
      onClick={() => press(name)}
    >
      {label}
    </button>
  );

  return (
    <div class="keypad">
      <div class="pad-fields" role="group" aria-label={say('pad.fields')}>
        <For each={props.fields}>
          {(one, i) => (
            <button type="button" class="pad-field" aria-pressed={i() === active()} onClick={() => setActive(i())}>
              <span>{one.label}</span> <b>{shown(one) || '–'}</b>
            </button>
          )}
        </For>
      </div>
      <div class="pad-echo">
        <output aria-live="polite">
          <b>{shown(field()) || '…'}</b> <span>{onlyWords() || words()[field().name] ? '' : unitText(field().range.unit)}</span>
        </output>
        <Show when={written[field().name] !== undefined}>
          <span class="quiet">{say('pad.was', { value: valueText(written[field().name]!) })}</span>
        </Show>
        <Show when={written[field().name] === undefined && field().last}>
          {(last) => (
            <span class="quiet">
              {say('pad.last', {
                value: valueText(last().value),
                span: spanText(now() - Date.parse(last().at)),
              })}
            </span>
          )}
        </Show>
        <Show when={!onlyWords() && field().range.words?.includes('unrecordable')}>
          <button type="button" class="chip" onClick={() => chooseWord('unrecordable')}>
            {say('pad.not_felt')}
          </button>
        </Show>
      </div>
      <Show
        when={!onlyWords()}
        fallback={
          <div class="pad-words">
            <For each={field().range.words}>
              {(word) => (
                <button type="button" class="key wide" aria-pressed={words()[field().name] === word} onClick={() => chooseWord(word)}>
                  {nameIn(props.kind, word)}
                </button>
              )}
            </For>
          </div>
        }
      >
        <div class="pad-keys">
          <For each={digits}>{(digit) => key(digit, digit, digit)}</For>
          <Show when={grammar().decimals > 0} fallback={key('00', '00', '00')}>
            {key('.', '.', say('pad.point'))}
          </Show>
          {key('0', '0', '0')}
          {key('back', '⌫', say('pad.back'))}
        </div>
      </Show>
      <div class="pad-save">
        <Show when={props.fields.length > 1}>
          <button type="button" class="key" onClick={next}>
            {say('pad.next')}
          </button>
        </Show>
        <button
          type="button"
          class="key act"
          disabled={Object.keys(values()).length === 0 || unfinished()}
          onClick={() => props.onSave(values())}
        >
          {props.saveText(values())}
        </button>
      </div>
    </div>
  );
}
