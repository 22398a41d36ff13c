// A dose, volume or number of units that is not one of the usual ones: what, how, then the amount by keypad.
import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { DrugChoice } from '../core/answers.ts';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { choices } from '../parts/live.tsx';
import type { Payload } from '../store/entry.ts';
import { withUnit } from '../words/figures.ts';
import { nameOf, say, sentence } from '../words/messages.ts';

interface Thing {
  kind: 'drug' | 'fluid' | 'blood';
  id: string;
  field: string;
  unit: string;
  routes: string[];
}

function things(tab: string, tabOf: (drug: DrugChoice) => string): Thing[] {
  const all = choices();
  if (!all) return [];
  const fluids = all.fluids.map((one): Thing => ({ kind: 'fluid', id: one.id, field: 'ml', unit: 'mL', routes: [] }));
  const blood = all.products.map((one): Thing => ({
    kind: 'blood',
    id: one.id,
    field: one.counted_in,
    unit: one.counted_in,
    routes: [],
  }));
  const drugs = all.drugs
    .filter((drug) => tab === 'usual' || tabOf(drug) === tab)
    .map((drug): Thing => ({ kind: 'drug', id: drug.id, field: 'dose', unit: drug.unit, routes: drug.routes }));
  if (tab === 'fluid') return fluids;
  if (tab === 'blood') return blood;
  return tab === 'usual' ? [...drugs, ...fluids] : drugs;
}

export function OtherAmount(props: {
  tab: string;
  tabOf: (drug: DrugChoice) => string;
  thing?: string;
  onGive: (kind: string, payload: Payload) => void;
}) {
  const [thing, setThing] = createSignal(things(props.tab, props.tabOf).find((one) => one.id === props.thing));
  const [route, setRoute] = createSignal<string | undefined>();
  const field = (one: Thing): PadField => ({
    name: one.field,
    label: say(`field.${one.field}`),
    range: { ...choices()!.fields[one.kind]![one.field]!, unit: one.unit },
    decimals: one.kind === 'drug' ? 2 : 0,
  });
  const fields = createMemo(() => (thing() ? [field(thing()!)] : []));
  const give = (one: Thing, values: PadValues) => {
    const amount = values[one.field];
    if (one.kind === 'drug') props.onGive('drug', { drug: one.id, dose: amount, unit: one.unit, route: route() });
    else props.onGive(one.kind, { [one.kind === 'fluid' ? 'fluid' : 'product']: one.id, [one.field]: amount });
  };
  return (
    <Switch>
      <Match when={!thing()}>
        <ul class="gives">
          <For each={things(props.tab, props.tabOf)}>
            {(one) => (
              <li>
                <button type="button" class="key wide" onClick={() => setThing(one)}>
                  {sentence(nameOf(one.id))}
                </button>
              </li>
            )}
          </For>
        </ul>
      </Match>
      <Match when={thing()!.routes.length > 0 && route() === undefined}>
        <p class="lead">{sentence(nameOf(thing()!.id))}</p>
        <h3>{say('gave.route')}</h3>
        <div class="ways-down">
          <For each={thing()!.routes}>
            {(one) => (
              <button type="button" class="key wide" onClick={() => setRoute(one)}>
                {sentence(nameOf(one))}
              </button>
            )}
          </For>
        </div>
      </Match>
      <Match when={thing()}>
        {(one) => (
          <>
            <p class="lead">
              {sentence(nameOf(one().id))}
              <Show when={route()}>{(by) => <span class="quiet"> {nameOf(by())}</span>}</Show>
            </p>
            <Keypad
              kind={one().kind}
              fields={fields()}
              saveText={(values) =>
                values[one().field] === undefined ?
                  say('save')
                : say('save.numbers', { numbers: withUnit(Number(values[one().field]), one().unit) })
              }
              onSave={(values) => give(one(), values)}
            />
          </>
        )}
      </Match>
    </Switch>
  );
}
