// One act at a time, large enough to be read out across the room: the reader says it, the doer answers, the reader taps.
import { Show, createMemo, createSignal, onCleanup } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { declinedName } from '../core/dueActs.ts';
import { NotNow } from '../parts/NotNow.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { now } from '../parts/clock.ts';
import { useDueKey } from '../parts/dueDoing.ts';
import { choices, useLive } from '../parts/live.tsx';
import { dueText, standingText } from '../words/adviceText.ts';
import { clockText } from '../words/figures.ts';
import { language } from '../words/language.ts';
import { say } from '../words/messages.ts';
import { spoken } from '../words/spoken.ts';
import './readout.css';

const hasVoice = 'speechSynthesis' in window;
const readable = 700; // ms: nobody has read a line sooner, so a touch before that was meant for the one before

function speak(line: string): void {
  speechSynthesis.cancel(); // the newest line, not a queue of old ones
  const words = new SpeechSynthesisUtterance(spoken(line));
  words.lang = 'en';
  speechSynthesis.speak(words);
}

const lineOf = (due: Due) => `${dueText(due)}. ${standingText(due, now())}`;

function Act(props: { due: Due; next: Due | undefined }) {
  const key = useDueKey(() => props.due);
  const [declining, setDeclining] = createSignal(false);
  const [fresh, setFresh] = createSignal(true);
  const settle = setTimeout(() => setFresh(false), readable);
  onCleanup(() => clearTimeout(settle));
  // Figures are spelled out in English only; read by that voice, another language could be taken for another dose.
  const canSpeak = () => hasVoice && language() === 'en';
  return (
    <>
      <div class="scroll readout" tabindex="0" role="region" aria-label={say('readout.title')}>
        <p class="readout-line" aria-live="polite">
          {dueText(props.due)}
        </p>
        <p class="readout-standing">{standingText(props.due, now())}</p>
        <Show when={props.next}>
          {(next) => (
            <p class="readout-next">{say('readout.next', { act: `${dueText(next())} (${standingText(next(), now())})` })}</p>
          )}
        </Show>
        <Show when={declining()}>
          <h3>{say('due.not_now')}</h3>
          <NotNow advice={declinedName(props.due)} onSaid={() => setDeclining(false)} />
        </Show>
      </div>
      <div class="sheet-foot">
        <Show when={!canSpeak()}>
          <p role="status">{say(hasVoice ? 'readout.english_only' : 'readout.silent')}</p>
        </Show>
        <div class="readout-keys">
          <button type="button" class="key" disabled={!canSpeak()} onClick={() => speak(lineOf(props.due))}>
            {say('readout.speak')}
          </button>
          <button type="button" class="key act" disabled={fresh() || key.done()} onClick={() => void key.tap()}>
            {key.goes() ? say('due.go') : say('readout.done', { time: clockText(now(), now()) })}
          </button>
          <button type="button" class="key" aria-expanded={declining()} onClick={() => setDeclining(!declining())}>
            {say('readout.not_now')}
          </button>
        </div>
      </div>
    </>
  );
}

export function Readout() {
  const live = useLive();
  const due = createMemo(() => live.advice()?.due ?? []);
  const first = createMemo(() => (due()[0] ? declinedName(due()[0]!) : undefined));
  return (
    <Sheet title={say('readout.title')}>
      <Show when={choices() && first()} keyed fallback={<p class="readout-line">{live.advice() ? say('due.none') : ''}</p>}>
        <Show when={due()[0]}>{(one) => <Act due={one()} next={due()[1]} />}</Show>
      </Show>
    </Sheet>
  );
}
