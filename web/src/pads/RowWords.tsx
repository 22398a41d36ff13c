// A row about the garment, theatre or a move put right: what was written stands chosen word by word, to be changed alone.
import { For, Show, createSignal } from 'solid-js';
import { facilitiesOf } from '../parts/caseFacts.ts';
import { Sheet } from '../parts/Sheet.tsx';
import { choices, useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowToCorrect, written } from '../parts/writing.ts';
import { type Entry, payloadOf } from '../store/entry.ts';
import { cases } from '../store/record.ts';
import { westernDigits } from '../words/digits.ts';
import { nameIn, say, sentence } from '../words/messages.ts';

const shapes: Record<string, string[]> = {
  garment: ['action', 'segment', 'side', 'tension', 'reason', 'garment_id'],
  surgery: ['state'],
  place: ['where', 'to', 'state', 'level'],
};

export function RowWords() {
  const live = useLive();
  const old = rowToCorrect(...Object.keys(shapes));
  return (
    <Sheet title={say('row.correct')} writes>
      <Show when={old}>{(entry) => <Fields entry={entry()} done={() => replace('case', live.id)} />}</Show>
    </Sheet>
  );
}

function Fields(props: { entry: Entry; done: () => void }) {
  const live = useLive();
  const old = props.entry;
  const [chosen, setChosen] = createSignal(payloadOf(old));
  const choose = (field: string, value: string) => setChosen({ ...chosen(), [field]: value });
  const shown = shapes[old.kind]!.filter((field) => old[field] !== undefined || (field === 'side' && old.segment !== undefined));
  const words = (field: string): string[] => {
    const facilities = facilitiesOf(cases());
    const offered =
      field === 'where' ? [...(choices()?.places ?? []), ...facilities]
      : field === 'to' ? facilities
      : (choices()?.fields[old.kind]?.[field]?.words ?? []);
    const was = old[field];
    return typeof was === 'string' && !offered.includes(was) ? [was, ...offered] : offered;
  };
  const save = async () => {
    if (await record(written(live.id, old.kind, chosen()))) props.done();
  };
  return (
    <>
      <div class="scroll" tabindex="0" role="region" aria-label={say('row.correct')}>
        <For each={shown}>
          {(field) => (
            <>
              <h3>{say(`row.${field}`)}</h3>
              <Show
                when={field !== 'garment_id'}
                fallback={
                  <input
                    aria-label={say('row.garment_id')}
                    value={String(old[field])}
                    maxlength="40"
                    autocomplete="off"
                    dir="auto"
                    onInput={(event) => choose(field, westernDigits(event.currentTarget.value.trim()))}
                  />
                }
              >
                <div class="chips" role="group" aria-label={say(`row.${field}`)}>
                  <For each={words(field)}>
                    {(word) => (
                      <button type="button" class="chip" aria-pressed={chosen()[field] === word} onClick={() => choose(field, word)}>
                        {sentence(nameIn(old.kind, word))}
                      </button>
                    )}
                  </For>
                </div>
              </Show>
            </>
          )}
        </For>
      </div>
      <div class="foot">
        <button type="button" class="key act" disabled={chosen().garment_id === ''} onClick={() => void save()}>
          {say('save')}
        </button>
      </div>
    </>
  );
}
