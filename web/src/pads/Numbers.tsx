// A pad of one kind of entry that is all numbers: signs, blood results, urine.
import { Show, createMemo } from 'solid-js';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowToCorrect, written } from '../parts/writing.ts';
import { payloadOf } from '../store/entry.ts';
import { figure } from '../words/figures.ts';
import { nameIn, say } from '../words/messages.ts';

// The fields of each kind in the order they are typed, with the decimals that are typed of each.
const shapes: Record<string, Record<string, number>> = {
  vitals: { pulse: 0, sbp: 0, dbp: 0, rr: 0, spo2: 0, temp_c: 1, avpu: 0, cap_refill_s: 0 },
  lab: {
    hb_gl: 0,
    platelets: 0,
    fibrinogen_gl: 1,
    lactate: 1,
    pt_ratio: 1,
    aptt_ratio: 1,
    ica: 2,
    clot_test_min: 0,
  },
  urine: { amount_ml: 0 },
};

export function NumbersPad(props: { kind: string; title: string }) {
  const live = useLive();
  const old = rowToCorrect(props.kind);
  const last = (field: string): PadField['last'] => {
    const entry = live
      .entries()
      .findLast((one) => one.kind === props.kind && one[field] !== undefined && one[field] !== null && !live.struck().has(one.id));
    return entry ? { value: entry[field] as number | string, at: entry.at } : undefined;
  };
  const fields = createMemo((): PadField[] => {
    const ranges = choices()?.fields[props.kind];
    if (!ranges) return [];
    return Object.entries(shapes[props.kind]!).map(([field, decimals]) => ({
      name: field,
      label: say(`field.${field}`),
      range: ranges[field]!,
      decimals,
      last: last(field),
    }));
  });
  const fieldNames = Object.keys(shapes[props.kind]!);
  const from = old && (Object.fromEntries(fieldNames.filter((field) => old[field] != null).map((field) => [field, old[field]])) as PadValues);
  const text = (values: PadValues) => {
    const parts = Object.values(values).map((value) => (typeof value === 'number' ? figure(value) : nameIn(props.kind, value)));
    return parts.length === 0 ? say('save') : say('save.numbers', { numbers: parts.join(' · ') });
  };
  const save = async (values: PadValues) => {
    // What a corrected row also says, beside the fields of this pad, stays with it: also a test that gave no number.
    const kept = old ? payloadOf(old, fieldNames.filter((field) => old[field] !== null)) : {};
    if (await record(written(live.id, props.kind, { ...kept, ...values }))) replace('case', live.id);
  };
  return (
    <Sheet title={props.title} writes>
      <Show when={choices()}>
        <Keypad kind={props.kind} fields={fields()} from={from} saveText={text} onSave={(values) => void save(values)} />
      </Show>
    </Sheet>
  );
}
