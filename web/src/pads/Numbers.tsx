// A pad of one kind of entry that is all numbers: signs, blood results, urine.
import { Show, createMemo } from 'solid-js';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { correcting, written } from '../parts/writing.ts';
import { figure } from '../words/figures.ts';
import { nameIn, say } from '../words/messages.ts';

interface Shape {
  field: string;
  decimals: number;
}

const shapes: Record<string, Shape[]> = {
  vitals: [
    { field: 'pulse', decimals: 0 },
    { field: 'sbp', decimals: 0 },
    { field: 'dbp', decimals: 0 },
    { field: 'rr', decimals: 0 },
    { field: 'spo2', decimals: 0 },
    { field: 'temp_c', decimals: 1 },
    { field: 'avpu', decimals: 0 },
    { field: 'cap_refill_s', decimals: 0 },
  ],
  lab: [
    { field: 'hb_gl', decimals: 0 },
    { field: 'platelets', decimals: 0 },
    { field: 'fibrinogen_gl', decimals: 1 },
    { field: 'lactate', decimals: 1 },
    { field: 'pt_ratio', decimals: 1 },
    { field: 'aptt_ratio', decimals: 1 },
    { field: 'ica', decimals: 2 },
    { field: 'clot_test_min', decimals: 0 },
  ],
  urine: [{ field: 'amount_ml', decimals: 0 }],
};

export function NumbersPad(props: { kind: string; title: string }) {
  const live = useLive();
  const last = (field: string): PadField['last'] => {
    const entry = live
      .entries()
      .findLast((one) => one.kind === props.kind && one[field] !== undefined && one[field] !== null && !live.struck().has(one.id));
    return entry ? { value: entry[field] as number | string, at: entry.at } : undefined;
  };
  const fields = createMemo((): PadField[] => {
    const ranges = choices()?.fields[props.kind];
    if (!ranges) return [];
    return shapes[props.kind]!.map(({ field, decimals }) => ({
      name: field,
      label: say(`field.${field}`),
      range: ranges[field]!,
      decimals,
      last: last(field),
    }));
  });
  const text = (values: PadValues) => {
    const parts = Object.values(values).map((value) => (typeof value === 'number' ? figure(value) : nameIn(props.kind, value)));
    return parts.length === 0 ? say('save') : say('save.numbers', { numbers: parts.join(' · ') });
  };
  const save = async (values: PadValues) => {
    // What a corrected row also held is kept, unless it was measured again.
    const old = correcting()?.entry;
    const kept = old?.kind === props.kind ? Object.fromEntries(shapes[props.kind]!.map(({ field }) => [field, old[field]])) : {};
    if (await record(written(live.id, props.kind, { ...kept, ...values }))) replace('case', live.id);
  };
  return (
    <Sheet title={props.title} writes>
      <Show when={choices()}>
        <Keypad kind={props.kind} fields={fields()} saveText={text} onSave={(values) => void save(values)} />
      </Show>
    </Sheet>
  );
}
