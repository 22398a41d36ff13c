// The stop card: which rule holds this back, with its number and source, and the way on for someone who has a reason.
// There is never a bare "OK".
import { For, Show, createSignal, onMount } from 'solid-js';
import { someoneHere } from '../store/entry.ts';
import { choices } from './live.tsx';
import { guardTitle } from '../words/adviceText.ts';
import { clockText } from '../words/figures.ts';
import { message, nameOf, say, sentence } from '../words/messages.ts';
import { entryText } from '../words/entryText.ts';
import { now } from './clock.ts';
import { type Stop, goOn, holdBack } from './recording.ts';
import { Reasons } from './Reasons.tsx';
import { SecondReading, amountField } from './SecondReading.tsx';
import { PersonChoice } from './WhoChip.tsx';
import { who } from '../store/record.ts';

const overriding = ['senior_decided', 'benefit_outweighs_risk', 'no_other_way', 'already_done'];
const alone = 'alone';

export function StopCard(props: { stop: Stop }) {
  const [why, setWhy] = createSignal<string | undefined>();
  const [second, setSecond] = createSignal<string | undefined>();
  let card!: HTMLDialogElement;
  let title!: HTMLHeadingElement;
  onMount(() => {
    card.showModal();
    title.focus(); // else the first key would be, and a long list of reasons would open at its end
  });
  const verdict = () => props.stop.verdict;
  const stopped = () => verdict().permission !== 'allowed' && verdict().permission !== 'warned';
  const senior = () => verdict().permission === 'needs_senior';
  const wantsSecond = () => senior() || verdict().second_person === true;
  const never = () => verdict().permission === 'never';
  // A second check is independent: whoever makes it types the amount again without having seen it here.
  const amount = () => (verdict().second_person && !never() ? amountField(props.stop.entries[0]!) : undefined);
  const checks = () => amount() !== undefined && second() !== undefined && second() !== alone;
  const [agrees, setAgrees] = createSignal(false);
  // What was seen is the amount itself or a total with it: the second person would know it before reading.
  const reasons = () =>
    amount() === undefined || agrees() ? verdict().reasons : verdict().reasons.map((reason) => ({ ...reason, seen: undefined }));
  const ready = () =>
    (!stopped() || why() !== undefined) && (!wantsSecond() || second() !== undefined) && (!checks() || agrees());
  const whyText = () => [why(), second() === alone ? alone : undefined].filter(Boolean).join(', ');
  return (
    <dialog ref={card} class="stop" classList={{ unseen: amount() !== undefined && !agrees() }} aria-labelledby="stop-title" onCancel={(event) => (event.preventDefault(), holdBack())}>
      <h2 id="stop-title" ref={title} tabindex="-1">
        <span class="mark" aria-hidden="true">!</span> {stopped() ? guardTitle(props.stop) : say('stop.second_title')}
      </h2>
      <p>
        {sentence(
          amount() ?
            nameOf(String(props.stop.entries[0]!.drug ?? props.stop.entries[0]!.product ?? props.stop.entries[0]!.fluid))
          : entryText(props.stop.entries[0]!, choices()),
        )}
      </p>
      <Show when={stopped()}>
        <p class="strong">{sentence(message('permission', verdict().permission))}</p>
      </Show>
      <Reasons reasons={reasons()}>
        <For each={verdict().ask ?? []}>{(ask) => <li>{message('unknown', ask)}</li>}</For>
      </Reasons>
      <Show when={verdict().allowed_at}>{(at) => <p>{say('stop.allowed_at', { time: clockText(at(), now()) })}</p>}</Show>
      <Show when={stopped()}>
        <h3>{never() ? say('stop.why_never') : say('stop.why')}</h3>
        <div class="chips" role="group" aria-label={say('stop.why')}>
          <For each={never() ? overriding.slice(3) : overriding}>
            {(reason) => (
              <button type="button" class="chip" aria-pressed={why() === reason} onClick={() => setWhy(reason)}>
                {say(`why.${reason}`)}
              </button>
            )}
          </For>
        </div>
      </Show>
      <Show when={wantsSecond()}>
        <h3>{senior() ? say('stop.senior') : say('stop.second')}</h3>
        <PersonChoice chosen={second()} others={senior() ? [] : [alone]} onChoose={setSecond} />
        <Show when={second() !== undefined && second() !== alone && second() === who()}>
          <p>{say('stop.same_person')}</p>
        </Show>
      </Show>
      <Show when={checks() && second() !== who()}>
        <SecondReading entry={props.stop.entries[0]!} field={amount()!} onAgree={setAgrees} />
      </Show>
      <div class="stop-ways">
        <button type="button" class="key act" onClick={holdBack}>
          {say(`stop.hold.${props.stop.act}`)}
        </button>
        <button
          type="button"
          class="key"
          disabled={!ready() || (second() === who() && who() !== someoneHere)}
          onClick={() => void goOn(whyText(), second() === alone ? undefined : second())}
        >
          {never() ? say('stop.it_happened') : say('stop.go_on')}
        </button>
      </div>
    </dialog>
  );
}
