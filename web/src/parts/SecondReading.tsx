// The second person's own reading of an amount, typed without the first one in view. A mismatch shows both.
import { Show, createMemo, createSignal } from 'solid-js';
import type { Entry } from '../store/entry.ts';
import { withUnit } from '../words/figures.ts';
import { say } from '../words/messages.ts';
import { Keypad, type PadField } from './Keypad.tsx';
import { choices } from './live.tsx';

const amounts: Record<string, string[]> = { drug: ['dose'], blood: ['units', 'ml', 'g'], fluid: ['ml'] };

/** The field of an entry that a second person reads again; none for what has no amount. */
export const amountField = (entry: Entry): string | undefined =>
  amounts[entry.kind]?.find((field) => typeof entry[field] === 'number');

export function SecondReading(props: { entry: Entry; field: string; onAgree: (agrees: boolean) => void }) {
  const [read, setRead] = createSignal<number | undefined>();
  const unit = () => (props.field === 'dose' ? String(props.entry.unit ?? '') : (choices()?.fields[props.entry.kind]?.[props.field]?.unit ?? ''));
  const first = () => props.entry[props.field] as number;
  const fields = createMemo((): PadField[] => [
    {
      name: props.field,
      label: say(`field.${props.field}`),
      range: { ...(choices()?.fields[props.entry.kind]?.[props.field] ?? { type: 'number' }), unit: unit() },
      decimals: props.entry.kind === 'drug' ? 2 : 0,
    },
  ]);
  return (
    <Show
      when={read() === undefined}
      fallback={
        <p class="strong" role="status">
          {read() === first() ?
            say('second.agrees', { amount: withUnit(first(), unit()) })
          : say('second.differs', { first: withUnit(first(), unit()), second: withUnit(read()!, unit()) })}{' '}
          <Show when={read() !== first()}>
            <button type="button" class="chip" onClick={() => setRead(undefined)}>
              {say('second.again')}
            </button>
          </Show>
        </p>
      }
    >
      <p>{say('second.read')}</p>
      <Keypad
        kind={props.entry.kind}
        fields={fields()}
        saveText={() => say('second.compare')}
        onSave={(values) => {
          const value = Number(values[props.field]);
          setRead(value);
          props.onAgree(value === first());
        }}
      />
    </Show>
  );
}
