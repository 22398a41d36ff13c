// A dose, volume or number of units that is not one of the usual ones: what, how, then the amount by keypad. To correct
// what was written it opens with all three chosen, each to be changed by itself.
import { For, Match, Show, Switch, createMemo, createSignal, untrack } from 'solid-js';
import type { DrugChoice, UsualDose } from '../core/answers.ts';
import { Keypad, type PadField, type PadValues } from '../parts/Keypad.tsx';
import { choices } from '../parts/live.tsx';
import { type Entry, type Payload, payloadOf } from '../store/entry.ts';
import { infusionText } from '../words/entryText.ts';
import { withUnit } from '../words/figures.ts';
import { commas, nameOf, say, sentence } from '../words/messages.ts';

const subjects = { drug: 'drug', fluid: 'fluid', blood: 'product' } as const;
const amounts = ['dose', 'unit', 'ml', 'units', 'g'];

interface Thing {
  kind: keyof typeof subjects;
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
    .filter((drug) => tab === 'usual' || tab === 'all' || tabOf(drug) === tab)
    .map((drug): Thing => ({ kind: 'drug', id: drug.id, field: 'dose', unit: drug.unit, routes: drug.routes }));
  if (tab === 'fluid') return fluids;
  if (tab === 'blood') return blood;
  if (tab === 'all') return [...drugs, ...fluids, ...blood];
  return tab === 'usual' ? [...drugs, ...fluids] : drugs;
}

const subjectOf = (entry: Entry) => String(entry[subjects[entry.kind as Thing['kind']]]);

export function OtherAmount(props: {
  tab: string;
  tabOf: (drug: DrugChoice) => string;
  thing?: string;
  old?: Entry;
  onThing: () => void;
  onGive: (kind: string, payload: Payload) => void;
}) {
  const old = untrack(() => props.old);
  const offered = () => things(old ? 'all' : props.tab, props.tabOf);
  const [thing, setThing] = createSignal(offered().find((one) => one.id === (old ? subjectOf(old) : props.thing)));
  const [route, setRoute] = createSignal(old && thing()?.routes.includes(String(old.route)) ? String(old.route) : undefined);
  const [changing, setChanging] = createSignal(false);
  const choosing = () => thing()!.routes.length > 0 && (route() === undefined || changing());
  // What else was written of it stays as long as it is the same thing, given the same way.
  const kept = (one: Thing): Payload => {
    if (!old || subjectOf(old) !== one.id) return {};
    const otherWay = old.kind === 'drug' && route() !== old.route;
    return payloadOf(old, [...amounts, 'route', ...(otherWay ? ['infusion'] : [])]);
  };
  const from = (one: Thing): PadValues | undefined => {
    const amount = old && subjectOf(old) === one.id && (one.kind !== 'drug' || old.unit === one.unit) ? old[one.field] : undefined;
    return typeof amount === 'number' ? { [one.field]: amount } : undefined;
  };
  const field = (one: Thing): PadField => ({
    name: one.field,
    label: say(`field.${one.field}`),
    range: { ...choices()!.fields[one.kind]![one.field]!, unit: one.unit },
    decimals: one.kind === 'drug' ? 2 : 0,
  });
  const fields = createMemo(() => (thing() ? [field(thing()!)] : []));
  const give = (one: Thing, values: PadValues) => {
    const amount = values[one.field];
    const how = one.kind === 'drug' ? { unit: one.unit, route: route() } : {};
    props.onGive(one.kind, { ...kept(one), [subjects[one.kind]]: one.id, [one.field]: amount, ...how });
  };
  return (
    <Switch>
      <Match when={!thing()}>
        <ul class="gives">
          <For each={offered()}>
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
      <Match when={thing()}>
        {(one) => (
          <>
            <Show when={old} fallback={<p class="lead">{sentence(nameOf(one().id))} <span class="quiet">{route() && nameOf(route()!)}</span></p>}>
              <div class="chips">
                <button type="button" class="chip" aria-pressed="true" onClick={() => props.onThing()}>
                  {sentence(nameOf(one().id))}
                </button>
                <Show when={route()}>
                  {(by) => (
                    <button type="button" class="chip" aria-pressed="true" onClick={() => setChanging(true)}>
                      {commas([nameOf(by()), infusionText(kept(one()).infusion as UsualDose['infusion'])].filter(Boolean))}
                    </button>
                  )}
                </Show>
              </div>
            </Show>
            <Show when={choosing()}>
              <h3>{say('gave.route')}</h3>
              <div class="ways-down">
                <For each={one().routes}>
                  {(by) => (
                    <button
                      type="button"
                      class="key wide"
                      aria-pressed={old && route() === by}
                      onClick={() => {
                        setRoute(by);
                        setChanging(false);
                      }}
                    >
                      {sentence(nameOf(by))}
                    </button>
                  )}
                </For>
              </div>
            </Show>
            {/* An amount that is typed stays while another way of giving is chosen. */}
            <div hidden={choosing()}>
              <Keypad
                kind={one().kind}
                fields={fields()}
                from={from(one())}
                saveText={(values) =>
                  values[one().field] === undefined ?
                    say('save')
                  : say('save.numbers', { numbers: withUnit(Number(values[one().field]), one().unit) })
                }
                onSave={(values) => give(one(), values)}
              />
            </div>
          </>
        )}
      </Match>
    </Switch>
  );
}
