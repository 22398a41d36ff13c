// What opens over the bedside: a header with the way back, the time and the person of what is written, then the pad.
import { type JSX, Show, createEffect } from 'solid-js';
import { useOpen } from './Kept.tsx';
import { say } from '../words/messages.ts';
import { afterPaint } from './paint.ts';
import { replace } from './route.ts';
import { useLive } from './live.tsx';
import { correcting } from './writing.ts';
import { WhenChip } from './WhenChip.tsx';
import { WhoChip } from './WhoChip.tsx';

export function Sheet(props: { title: string; writes?: boolean; children: JSX.Element }) {
  const live = useLive();
  let back!: HTMLButtonElement;
  // After the frame that shows it: focusing at once would lay the page out twice for one tap.
  const isOpen = useOpen();
  createEffect(() => isOpen() && afterPaint(() => back.focus({ preventScroll: true })));
  return (
    <section class="leaf" classList={{ sheet: isOpen(), waiting: !isOpen() }} aria-label={props.writes && correcting() ? `${say('correcting')}: ${props.title}` : props.title}>
      <header class="sheet-head">
        <button ref={back} type="button" class="key back" onClick={() => replace('case', live.id)}>
          ‹ {say('back')}
        </button>
        <h2>{props.writes && correcting() ? say('correcting') : props.title}</h2>
        <Show when={props.writes}>
          <WhenChip />
          <WhoChip />
        </Show>
      </header>
      {props.children}
    </section>
  );
}
