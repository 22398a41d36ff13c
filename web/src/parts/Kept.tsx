// A pad that is built and laid out before it is asked for, in a moment when no finger is near: a tap then only has to show
// it. Each opening gets a pad of its own, so nothing is left in it from the one before.
import { type Accessor, type JSX, Show, batch, createComputed, createContext, createSignal, on, onCleanup, useContext } from 'solid-js';
import { whenCalm } from './calm.ts';
import { LiveProvider, type LiveCase, choices, useLive } from './live.tsx';
import { route } from './route.ts';
import { correcting } from './writing.ts';

const Open = createContext<Accessor<boolean>>(() => true);

/** Is the pad around here open, or does it wait? */
export const useOpen = (): Accessor<boolean> => useContext(Open);

// One thing at a time and only while no finger is near: a tap that comes between has the page to itself. The browser's
// own idle callbacks can be held back until the next tap is being answered.
const breath = 50; // ms
const settled = 300; // ms from the first answer to the first pad that is built ahead
const queue: (() => void)[] = [];

function whenIdle(act: () => void): void {
  if (queue.push(act) === 1) setTimeout(next, breath);
}

function next(): void {
  whenCalm(() => {
    const act = queue.shift();
    if (queue.length > 0) setTimeout(next, breath);
    act?.();
  });
}

/** The case as a waiting pad sees it: changes reach it when nobody waits for a frame, and at once when it opens. */
function unhurried(live: LiveCase, isOpen: Accessor<boolean>): LiveCase {
  const [entries, setEntries] = createSignal(live.entries());
  const [struck, setStruck] = createSignal(live.struck());
  const [advice, setAdvice] = createSignal(live.advice());
  const take = () =>
    batch(() => {
      setEntries(live.entries());
      setStruck(live.struck());
      setAdvice(live.advice());
    });
  let gone = false;
  onCleanup(() => {
    gone = true;
  });
  createComputed(
    on([live.entries, live.struck, live.advice, isOpen], () => {
      if (isOpen()) take();
      else whenIdle(() => !gone && take());
    }),
  );
  return { id: live.id, entries, struck, advice };
}

export function Kept(props: { name: string; children: JSX.Element }) {
  const live = useLive();
  const isOpen = () => route().open === props.name;
  const seen = unhurried(live, isOpen);
  const [pad, setPad] = createSignal(0); // 0: none is built
  let last = 0;
  let gone = false;
  const build = () => setPad((last += 1));
  const prepare = () => whenIdle(() => !gone && pad() === 0 && build());
  onCleanup(() => {
    gone = true;
  });
  const ready = () => choices() !== undefined && live.advice() !== undefined;
  // The case itself comes first: what it says is read before any pad is asked for.
  createComputed(on(ready, (yes) => yes && setTimeout(prepare, settled)));
  createComputed(
    on(isOpen, (open, wasOpen) => {
      if (open && (pad() === 0 || correcting())) build();
      if (!open && wasOpen) {
        setPad(0);
        prepare();
      }
    }),
  );
  return (
    <Show when={pad()} keyed>
      {(_) => (
        <Open.Provider value={isOpen}>
          <LiveProvider value={seen}>{props.children}</LiveProvider>
        </Open.Provider>
      )}
    </Show>
  );
}
