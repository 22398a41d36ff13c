// When it happened: now, some minutes ago, or a time picked from two grids. Never before a day ago, never ahead.
import { For, Show, createSignal } from 'solid-js';
import { clockText } from '../words/figures.ts';
import { say } from '../words/messages.ts';
import { now } from './clock.ts';
import { setWhen, when } from './writing.ts';

const minute = 60_000;
const day = 24 * 60 * minute;
const steps = [0, 1, 2, 5, 10, 15];

/** The newest such time of day that is not ahead of the clock. */
export function lastTimeOfDay(hours: number, minutes: number, before: number): number {
  const at = new Date(before);
  at.setHours(hours, minutes, 0, 0);
  return at.getTime() > before ? at.getTime() - day : at.getTime();
}

const label = (back: number) => (back === 0 ? say('when.now') : `−${back}`);

export function TimeChoice(props: { earlierOnly?: boolean; onChoose: (choice: { back: number } | { at: number }) => void; chosen?: number }) {
  const [hours, setHours] = createSignal<number | undefined>();
  const [clock, setClock] = createSignal(false);
  const range = (count: number, step: number) => Array.from({ length: count }, (_, i) => i * step);
  return (
    <Show
      when={clock()}
      fallback={
        <div class="chips" role="group" aria-label={say('when.title')}>
          <For each={props.earlierOnly ? steps.slice(1) : steps}>
            {(back) => (
              <button
                type="button"
                class="chip"
                aria-pressed={props.chosen === back}
                aria-label={back === 0 ? say('when.now') : say('when.back', { min: back })}
                onClick={() => props.onChoose({ back })}
              >
                {label(back)}
              </button>
            )}
          </For>
          <button type="button" class="chip" onClick={() => setClock(true)}>
            {say('when.at')}
          </button>
        </div>
      }
    >
      <p class="quiet">{hours() === undefined ? say('when.hour') : say('when.minute', { h: hours()! })}</p>
      <div class="grid-6">
        <For each={hours() === undefined ? range(24, 1) : range(60, 1).filter((m) => m % 5 === 0)}>
          {(value) => (
            <button
              type="button"
              class="chip"
              onClick={() =>
                hours() === undefined ? setHours(value) : props.onChoose({ at: lastTimeOfDay(hours()!, value, Date.now()) })
              }
            >
              {String(value).padStart(2, '0')}
            </button>
          )}
        </For>
      </div>
    </Show>
  );
}

export function WhenChip() {
  const [open, setOpen] = createSignal(false);
  const shown = () => {
    const chosen = when();
    if ('at' in chosen) return clockText(chosen.at, now());
    return chosen.back === 0 ? say('when.now') : label(chosen.back);
  };
  return (
    <>
      <button type="button" class="key small" aria-expanded={open()} onClick={() => setOpen(!open())}>
        <span class="sr">{say('when.title')} </span>
        {shown()}
      </button>
      <Show when={open()}>
        <div class="drop">
          <TimeChoice
            chosen={'back' in when() ? (when() as { back: number }).back : undefined}
            onChoose={(choice) => {
              setWhen(choice);
              setOpen(false);
            }}
          />
        </div>
      </Show>
    </>
  );
}
