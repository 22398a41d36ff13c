// What was given: the ward's usual doses as full rows, grouped by what they are for. What is due stands first. Another
// amount is typed; nothing is ever filled in beforehand.
import { For, Show, createMemo, createSignal } from 'solid-js';
import type { DrugChoice, UsualDose } from '../core/answers.ts';
import { dosePayload, usualFor } from '../core/dueActs.ts';
import { Sheet } from '../parts/Sheet.tsx';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowToCorrect, written } from '../parts/writing.ts';
import type { Entry, Payload } from '../store/entry.ts';
import { infusionText } from '../words/entryText.ts';
import { figure, withUnit } from '../words/figures.ts';
import { commas, nameOf, say, sentence } from '../words/messages.ts';
import { OtherAmount } from './OtherAmount.tsx';

const tabs = ['usual', 'womb', 'clot', 'fluid', 'blood', 'other'] as const;
type Tab = (typeof tabs)[number];

interface Given {
  kind: string;
  payload: Payload;
  name: string;
  dose: string;
  how: string;
}

const purposes: Record<string, Tab> = { uterotonic: 'womb', antifibrinolytic: 'clot', clotting_factor: 'clot' };
const tabOf = (drug: DrugChoice): Tab => purposes[drug.purpose] ?? 'other';

function doseRow(drug: DrugChoice, usual: UsualDose): Given {
  const how = [
    nameOf(usual.route),
    infusionText(usual.infusion),
    usual.drops_per_min ? say('gave.drops', { n: figure(usual.drops_per_min) }) : '',
    usual.follows ? say('gave.next_bag') : '',
    usual.use === 'prevention' ? say('gave.prevention') : '',
  ];
  return {
    kind: 'drug',
    payload: dosePayload(drug.id, usual),
    name: nameOf(drug.id),
    dose: withUnit(usual.dose, usual.unit),
    how: commas(how.filter(Boolean)),
  };
}

const says = (entry: Entry, given: Given) =>
  entry.kind === given.kind &&
  Object.entries(given.payload).every(([field, value]) => JSON.stringify(entry[field]) === JSON.stringify(value));

/** Two ways of giving that read the same are one row. */
function eachOnce(all: Given[]): Given[] {
  const rows = new Map<string, Given>();
  for (const one of all) {
    const words = `${one.name} ${one.dose} ${one.how}`;
    if (!rows.has(words)) rows.set(words, one);
  }
  return [...rows.values()];
}

export function Gave(props: { tab: string }) {
  const live = useLive();
  const [chosen, setChosen] = createSignal<Tab | undefined>();
  const old = rowToCorrect('drug', 'fluid', 'blood');
  const [typing, setTyping] = createSignal<{ thing?: string; old?: Entry } | undefined>(old && { old });
  const oldTab = () => {
    const drug = choices()?.drugs.find((one) => one.id === old?.drug);
    return old?.kind === 'fluid' || old?.kind === 'blood' ? old.kind : drug ? tabOf(drug) : undefined;
  };
  const tab = (): Tab => chosen() ?? (tabs.includes(props.tab as Tab) ? (props.tab as Tab) : (oldTab() ?? 'usual'));

  const fluids = createMemo<Given[]>(() =>
    (choices()?.fluids ?? []).flatMap((fluid) =>
      fluid.usual.map((usual) => ({
        kind: 'fluid',
        payload: { fluid: fluid.id, ...usual },
        name: nameOf(fluid.id),
        dose: withUnit(usual.ml, 'mL'),
        how: say('gave.over', { min: figure(usual.over_min) }),
      })),
    ),
  );
  const blood = createMemo<Given[]>(() =>
    (choices()?.products ?? []).flatMap((product) =>
      product.usual.map((amount) => ({
        kind: 'blood',
        payload: { product: product.id, [product.counted_in]: amount },
        name: nameOf(product.id),
        dose: withUnit(amount, product.counted_in),
        how: '',
      })),
    ),
  );
  const dosesOf = (fits: (drug: DrugChoice) => boolean): Given[] =>
    eachOnce((choices()?.drugs ?? []).filter(fits).flatMap((drug) => drug.usual.map((usual) => doseRow(drug, usual))));

  // What is due, then the first choice of each purpose, each once.
  const usual = createMemo<Given[]>(() => {
    const all = choices();
    if (!all) return [];
    const named = (live.advice()?.due ?? []).flatMap((due) => {
      const drug = all.drugs.find((one) => due.id.startsWith('give_') && one.id === (due.arguments?.drug ?? due.about));
      const dose = drug && usualFor(all, drug.id, { dose: due.arguments?.dose, route: due.arguments?.route });
      return drug && dose ? [doseRow(drug, dose)] : [];
    });
    const firstOf = (purpose: string) => {
      const drug = all.drugs.find((one) => one.purpose === purpose);
      return drug ? drug.usual.filter((one) => one.use === 'treatment' && !one.follows).map((one) => doseRow(drug, one)) : [];
    };
    const rest = [...firstOf('antifibrinolytic').slice(0, 1), ...firstOf('uterotonic'), ...fluids().slice(0, 1)];
    return eachOnce([...named, ...rest]);
  });
  const rows = (): Given[] => {
    switch (tab()) {
      case 'usual':
        return usual();
      case 'fluid':
        return fluids();
      case 'blood':
        return blood();
      default:
        return dosesOf((drug) => tabOf(drug) === tab());
    }
  };
  const give = async (kind: string, payload: Payload) => {
    if (await record(written(live.id, kind, payload))) replace('case', live.id);
  };
  return (
    <Sheet title={say('gave.title')} writes>
      <div class="tabs" role="group" aria-label={say('gave.title')} hidden={typing()?.old !== undefined}>
        <For each={tabs}>
          {(one) => (
            <button
              type="button"
              class="chip"
              aria-pressed={tab() === one}
              onClick={() => {
                setChosen(one);
                setTyping(undefined);
              }}
            >
              {say(`gave.${one}`)}
            </button>
          )}
        </For>
      </div>
      <div class="scroll" tabindex="0" role="region" aria-label={say(`gave.${tab()}`)}>
        <Show
          when={!typing()}
          fallback={
            <OtherAmount
              tab={tab()}
              tabOf={tabOf}
              thing={typing()?.thing}
              old={typing()?.old}
              onThing={() => setTyping(undefined)}
              onGive={(kind, payload) => void give(kind, payload)}
            />
          }
        >
          <ul class="gives">
            <For each={rows()}>
              {(one) => (
                <li>
                  <button
                    type="button"
                    class="key give"
                    aria-pressed={old && says(old, one)}
                    onClick={() => void give(one.kind, one.payload)}
                  >
                    <span>
                      <b>{sentence(one.name)}</b> <b class="dose">{one.dose}</b>
                    </span>
                    <span class="how">{one.how}</span>
                  </button>
                </li>
              )}
            </For>
            <For each={tab() === 'fluid' ? choices()?.fluids.filter((one) => one.usual.length === 0) : []}>
              {(one) => (
                <li>
                  <button type="button" class="key give" onClick={() => setTyping({ thing: one.id })}>
                    <b>{sentence(nameOf(one.id))}</b>
                    <span class="how">{say('gave.typed')}</span>
                  </button>
                </li>
              )}
            </For>
          </ul>
          <button type="button" class="key wide" onClick={() => setTyping({})}>
            {say('gave.amount')}
          </button>
        </Show>
      </div>
    </Sheet>
  );
}
