// Before the garment is on her: which one, and what the core says about putting it on.
import { For, Show, createMemo, createSignal } from 'solid-js';
import { useLive } from '../parts/live.tsx';
import { record } from '../parts/recording.ts';
import { written } from '../parts/writing.ts';
import { cases } from '../store/record.ts';
import { westernDigits } from '../words/digits.ts';
import { commas, say } from '../words/messages.ts';

const shown = 4;

export function PutOn() {
  const live = useLive();
  const [adding, setAdding] = createSignal(false);
  let input!: HTMLInputElement;
  // The garments this phone has seen, newest first.
  const seen = createMemo(() => {
    const ids = new Set<string>();
    for (const entries of [...cases().values()].reverse())
      for (const entry of entries) if (entry.kind === 'garment' && typeof entry.garment_id === 'string') ids.add(entry.garment_id);
    return [...ids].slice(0, shown);
  });
  const place = (garmentId: string | undefined) =>
    void record(written(live.id, 'garment', { action: 'placed', ...(garmentId ? { garment_id: garmentId } : {}) }));
  return (
    <>
      <h3>{say('wrap.garment')}</h3>
      <div class="grid-2">
        <For each={seen()}>
          {(id) => (
            <button type="button" class="key" onClick={() => place(id)}>
              <bdi>{id}</bdi>
            </button>
          )}
        </For>
        <button type="button" class="key" onClick={() => place(undefined)}>
          {commas([say('wrap.put_on'), say('wrap.no_number')])}
        </button>
        <Show
          when={adding()}
          fallback={
            <button type="button" class="key" onClick={() => setAdding(true)}>
              {say('wrap.number')}
            </button>
          }
        >
          <form
            class="inline span-2"
            onSubmit={(event) => {
              event.preventDefault();
              if (input.value.trim() !== '') place(westernDigits(input.value.trim()));
            }}
          >
            <input ref={input} aria-label={say('wrap.number')} maxlength="40" dir="auto" autocomplete="off" />
            <button type="submit" class="chip">
              {say('wrap.put_on')}
            </button>
          </form>
        </Show>
      </div>
    </>
  );
}
