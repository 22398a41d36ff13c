// One row, and how to put it right. The old row is struck, never erased; the new one says why it stands for it.
import { Show } from 'solid-js';
import { Sheet } from '../parts/Sheet.tsx';
import { PersonChoice } from '../parts/WhoChip.tsx';
import { TimeChoice } from '../parts/WhenChip.tsx';
import { now } from '../parts/clock.ts';
import { choices, useLive } from '../parts/live.tsx';
import { keepAs, record } from '../parts/recording.ts';
import { replace } from '../parts/route.ts';
import { rowTime, startCorrecting } from '../parts/writing.ts';
import { tabOf } from '../pads/didTabs.ts';
import { type Entry, payloadOf, someoneHere } from '../store/entry.ts';
import { setWho, who, type Writing } from '../store/record.ts';
import { entryText } from '../words/entryText.ts';
import { clockText } from '../words/figures.ts';
import { nameIn, say, sentence } from '../words/messages.ts';

const minute = 60_000;
// Where each kind is corrected: mostly with the keys that entered it.
const padOf: Record<string, string> = {
  vitals: 'vitals',
  loss: 'loss',
  drug: 'gave',
  fluid: 'gave',
  blood: 'gave',
  manoeuvre: 'did',
  call: 'did',
  outcome: 'did',
  lab: 'results',
  urine: 'urine',
  garment: 'words',
  surgery: 'words',
  place: 'words',
  opened: 'woman',
};

const padFor = (entry: Entry): string | undefined =>
  entry.kind === 'finding' ? (tabOf(entry, choices()) ? 'did' : 'move') : padOf[entry.kind];

/** The same thing once more, in place of the row. */
function again(entry: Entry, reason: string, at?: number): Writing {
  return {
    case: entry.case,
    kind: entry.kind,
    payload: payloadOf(entry),
    at: at ?? rowTime(entry),
    second: entry.second,
    strikes: entry.id,
    note: nameIn('strike', reason),
  };
}

export function RowSheet(props: { id: string }) {
  const live = useLive();
  const entry = () => live.entries().find((one) => one.id === props.id);
  const isStruck = () => live.struck().has(props.id);
  const leave = () => replace('case', live.id);
  const setTime = async (row: Entry, choice: { back: number } | { at: number }) => {
    const at = 'at' in choice ? choice.at : rowTime(row) - choice.back * minute;
    if (await record(again(row, 'wrong_time', at))) leave();
  };
  const setPerson = async (row: Entry, name: string) => {
    const me = who();
    await setWho(name);
    await keepAs(again(row, 'wrong_person'));
    if (me !== someoneHere && me !== name) await setWho(me);
    leave();
  };
  return (
    <Sheet title={say('row.title')}>
      <Show when={entry()}>
        {(row) => (
          <div class="scroll" tabindex="0" role="region" aria-label={say('row.title')}>
            <p class="lead">
              {clockText(row().at, now())} {sentence(entryText(row(), choices()))}
            </p>
            <p class="quiet">
              {say('row.written', {
                time: clockText(row().written, now()),
                who: row().by === someoneHere ? say('who.someone') : row().by,
              })}
              <Show when={row().second}>
                {(second) => (
                  <>
                    {' · '}
                    {say('stop.second')}: {second()}
                  </>
                )}
              </Show>
            </p>
            <Show when={isStruck()}>
              <p class="strong">{say('course.struck')}</p>
            </Show>
            <Show when={!isStruck()}>
              <h3>{say('row.earlier')}</h3>
              <TimeChoice earlierOnly onChoose={(choice) => void setTime(row(), choice)} />
              <div class="ways-down">
                <Show when={padFor(row())}>
                  {(pad) => (
                    <button
                      type="button"
                      class="key"
                      onClick={() => {
                        startCorrecting(row(), 'wrong_value');
                        replace('case', live.id, pad());
                      }}
                    >
                      {say('row.correct')}
                    </button>
                  )}
                </Show>
                <button
                  type="button"
                  class="key"
                  onClick={() =>
                    void keepAs({
                      case: live.id,
                      kind: 'strike',
                      strikes: row().id,
                      payload: { reason: 'did_not_happen' },
                    }).then(leave)
                  }
                >
                  {say('row.not_happened')}
                </button>
              </div>
              <h3>{say('row.who')}</h3>
              <PersonChoice chosen={row().by} onChoose={(name) => void setPerson(row(), name)} />
            </Show>
          </div>
        )}
      </Show>
    </Sheet>
  );
}
