// A slip that was read whole: whose it is, what is in it and what is not, and the question whether to take it.
import { For, Show } from 'solid-js';
import { labelOf } from '../parts/caseFacts.ts';
import { now } from '../parts/clock.ts';
import { inFours } from '../slip/known.ts';
import type { Taken } from '../slip/slip.ts';
import { contentOf } from '../store/entry.ts';
import { entriesOf } from '../store/record.ts';
import { figure, spanText } from '../words/figures.ts';
import { say } from '../words/messages.ts';
import { kindsText } from '../words/slipText.ts';

export function SlipRead(props: { read: Taken; onTake: () => void; onLeave: () => void }) {
  const { about, entries, kid, refused, trust, warnings } = props.read;
  const held = new Set(entriesOf(about.case).map(contentOf));
  const fresh = entries.filter((entry) => !held.has(contentOf(entry))).length;
  return (
    <>
      <div class="slip-words">
        <h2>{labelOf(entries)}</h2>
        <p>{say('slip.from', { author: about.author, sender: about.sender })}</p>
        <p>
          {say('slip.age', { span: spanText(Math.max(0, now() - Date.parse(about.made))) })} {say('slip.numbers', { n: entries.length, fresh: figure(fresh) })}
        </p>
        <For each={warnings}>
          {(warning) => <p class="noted">{say(`slip.warning.${warning}`, { kinds: kindsText(about.left_out) })}</p>}
        </For>
        <Show when={refused.length > 0}>
          <p class="noted">{say('slip.refused_entries', { n: refused.length, sentence: refused[0]!.sentence })}</p>
        </Show>
        <Show when={fresh === 0}>
          <p>{say('slip.alike')}</p>
        </Show>
        <Show when={trust === 'unknown'} fallback={<p>{say('slip.known')}</p>}>
          <p class="noted">
            {say('slip.unknown')} <code class="thumbprint">{inFours(kid)}</code>
          </p>
        </Show>
      </div>
      <footer class="foot foot-row">
        <button type="button" class="key" onClick={() => props.onLeave()}>
          {say('slip.leave')}
        </button>
        <Show when={entries.length > 0}>
          <button type="button" class="key act grow" onClick={() => props.onTake()}>
            {fresh === 0 ? say('slip.open') : trust === 'known' ? say('slip.take') : say('slip.take_anyway')}
          </button>
        </Show>
      </footer>
    </>
  );
}
