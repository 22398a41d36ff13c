// What was done, seen and called for. Each is saved by one tap, and the pad stays for the next; to correct a row it opens
// with what was written chosen, and closes with the new choice.
import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { Sheet } from '../parts/Sheet.tsx';
import { now } from '../parts/clock.ts';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { go, replace } from '../parts/route.ts';
import { TakeBack } from '../parts/TakeBack.tsx';
import { rowToCorrect, written } from '../parts/writing.ts';
import { type Entry, type Payload, payloadOf } from '../store/entry.ts';
import { clockText } from '../words/figures.ts';
import { nameIn, nameOf, say, sentence } from '../words/messages.ts';
import { type Tab, groups, seen, tabOf, tabs } from './didTabs.ts';

export function Did(props: { tab: string }) {
  const live = useLive();
  const [chosen, setChosen] = createSignal<Tab | undefined>();
  const old = rowToCorrect('manoeuvre', 'finding', 'call', 'outcome');
  const oldTab = old && tabOf(old, choices());
  const tab = (): Tab => chosen() ?? (tabs.includes(props.tab as Tab) ? (props.tab as Tab) : (oldTab ?? 'first'));
  const says = (kind: string, payload: Payload) =>
    old?.kind === kind && Object.entries(payload).every(([field, value]) => old[field] === value);
  const pressed = (kind: string, payload: Payload) => old && says(kind, payload);
  const put = async (kind: string, payload: Payload) => {
    const subject = payload.what === undefined ? { who: payload.who } : { what: payload.what };
    const kept = old && says(kind, subject) ? payloadOf(old) : {};
    if ((await record(written(live.id, kind, { ...kept, ...payload }))) && old) replace('case', live.id);
  };
  const newest = createMemo(() => {
    const out = new Map<string, Entry>();
    for (const entry of live.entries())
      if (!live.struck().has(entry.id)) out.set(`${entry.kind}:${String(entry.what ?? entry.who)}:${String(entry.state ?? entry.value ?? '')}`, entry);
    return out;
  });
  const at = (kind: string, what: string, word = '') => {
    const entry = newest().get(`${kind}:${what}:${word}`);
    return entry ? ` ✓ ${clockText(entry.at, now())}` : '';
  };
  const latest = (what: string) =>
    live.entries().findLast((entry) => entry.kind === 'finding' && entry.what === what && !live.struck().has(entry.id));
  const manoeuvres = () => choices()!.manoeuvres.filter((one) => groups[tab()].includes(one.group));
  const findings = () =>
    seen[tab()].flatMap((id) => choices()!.findings.filter((finding) => finding.id === id && finding.values.length > 0));
  return (
    <Sheet title={say('did.title')} writes>
      <div class="tabs" role="group" aria-label={say('did.title')}>
        <For each={tabs}>
          {(one) => (
            <button type="button" class="chip" aria-pressed={tab() === one} onClick={() => setChosen(one)}>
              {say(`did.${one}`)}
            </button>
          )}
        </For>
      </div>
      <div class="scroll" tabindex="0" role="region" aria-label={say(`did.${tab()}`)}>
        <Show when={choices()}>
          <For each={findings()}>
            {(finding) => (
              <>
                <h3>{finding.id === 'tone' ? say('did.womb') : sentence(nameIn('finding', finding.id))}</h3>
                <div class="chips" role="group" aria-label={sentence(nameIn('finding', finding.id))}>
                  <For each={finding.values}>
                    {(value) => (
                      <button
                        type="button"
                        class="chip live"
                        aria-pressed={pressed('finding', { what: finding.id, value }) ?? latest(finding.id)?.value === value}
                        onClick={() => void put('finding', { what: finding.id, value })}
                      >
                        {sentence(nameIn('finding', value))}
                      </button>
                    )}
                  </For>
                </div>
              </>
            )}
          </For>
          <div class="grid-2">
            <For each={manoeuvres()}>
              {(one) => (
                <button type="button" class="key did" aria-pressed={pressed('manoeuvre', { what: one.id })} onClick={() => void put('manoeuvre', { what: one.id })}>
                  {sentence(nameOf(one.id))}
                  <span class="quiet">{at('manoeuvre', one.id)}</span>
                </button>
              )}
            </For>
          </div>
          <Switch>
            <Match when={tab() === 'people'}>
              <For each={choices()!.roles}>
                {(role) => (
                  <div class="role">
                    <span>{sentence(nameIn('call', role))}</span>
                    <For each={['called', 'arrived']}>
                      {(state) => (
                        <button
                          type="button"
                          class="key did"
                          aria-label={`${sentence(nameIn('call', role))} ${nameIn('call', state)}`}
                          aria-pressed={pressed('call', { who: role, state })}
                          onClick={() => void put('call', { who: role, state })}
                        >
                          {sentence(nameIn('call', state))}
                          <span class="quiet">{at('call', role, state)}</span>
                        </button>
                      )}
                    </For>
                  </div>
                )}
              </For>
            </Match>
            <Match when={tab() === 'more'}>
              <div class="grid-2">
                <button type="button" class="key did" onClick={() => go('case', live.id, 'results')}>
                  {say('did.results')}
                </button>
                <button type="button" class="key did" onClick={() => go('case', live.id, 'urine')}>
                  {say('did.urine')}
                </button>
                <For each={choices()!.outcomes}>
                  {(what) => (
                    <button type="button" class="key did" aria-pressed={pressed('outcome', { what })} onClick={() => void put('outcome', { what })}>
                      {sentence(nameIn('outcome', what))}
                      <span class="quiet">{at('outcome', what)}</span>
                    </button>
                  )}
                </For>
              </div>
            </Match>
          </Switch>
        </Show>
      </div>
      <TakeBack caseId={live.id} />
    </Sheet>
  );
}
