// The screen seems to touch itself: nothing under this card takes a touch. Two keys far apart, in order and with nothing
// else touched between, are what only a person does. What was saved just before can then be taken back for ten seconds.
import { createSignal, onCleanup, onMount } from 'solid-js';
import { offerTakeBack } from '../store/record.ts';
import { say } from '../words/messages.ts';
import { setDry, within } from './wet.ts';

const pace = 400; // ms: a person looks for the second key, drops do not

export function WetCard(props: { since: number }) {
  const [first, setFirst] = createSignal(false);
  let card!: HTMLDialogElement;
  let touched = -Infinity; // when the glass was last touched
  let calm = false; // was it still for a while before this touch?
  const watch = (event: PointerEvent) => {
    calm = event.timeStamp - touched >= pace;
    touched = event.timeStamp;
  };
  const dry = () => {
    setDry();
    offerTakeBack(props.since - 2 * within);
  };
  // Whatever else is touched begins it anew. A key of a keyboard (detail 0) is pressed by no drop.
  const tap = (event: MouseEvent) => {
    const key = (event.target as Element).closest('button')?.dataset.key;
    const meant = calm || event.detail === 0;
    if (key === '2' && first() && meant) dry();
    else setFirst(key === '1' && meant);
  };
  onMount(() => {
    card.showModal();
    document.addEventListener('pointerdown', watch, true);
    onCleanup(() => document.removeEventListener('pointerdown', watch, true));
  });
  return (
    <dialog ref={card} class="wet" aria-labelledby="wet-title" aria-describedby="wet-text" onClick={tap} onCancel={(event) => (event.preventDefault(), dry())}>
      <button type="button" class="key act" data-key="1" aria-pressed={first()}>
        {say('wet.first')}
      </button>
      <div class="wet-words">
        <h2 id="wet-title">{say('wet.title')}</h2>
        <p id="wet-text">{say('wet.text')}</p>
      </div>
      <button type="button" class="key" classList={{ act: first() }} data-key="2" aria-disabled={!first()}>
        {say('wet.second')}
      </button>
    </dialog>
  );
}
