// The page: the practice frame, the screen that the address names, and the cards over all of it.
import { Match, Show, Switch, createEffect, createSignal, lazy, on } from 'solid-js';
import { StopCard } from './parts/StopCard.tsx';
import { WetCard } from './parts/WetCard.tsx';
import { whenCalm } from './parts/calm.ts';
import { coreFault } from './parts/live.tsx';
import { stop } from './parts/recording.ts';
import { route } from './parts/route.ts';
import { wetSince } from './parts/wet.ts';
import { CaseFrame } from './screens/CaseFrame.tsx';
import { Cases } from './screens/Cases.tsx';
import { LanguageChoice } from './screens/LanguageChoice.tsx';
import { Link } from './screens/Link.tsx';
import { Start } from './screens/Start.tsx';
import { diskFault } from './store/record.ts';
import { practice } from './sync/link.ts';
import { say } from './words/messages.ts';

// Loaded when it is asked for; a phone that has opened the page once keeps it for use with no network.
const ReadSlip = lazy(async () => ({ default: (await import('./screens/ReadSlip.tsx')).ReadSlip }));

export function App() {
  // A fault's line moves what is below it: it comes and goes when no finger is near.
  const [faults, setFaults] = createSignal({ disk: diskFault(), core: coreFault() });
  createEffect(on([diskFault, coreFault], () => whenCalm(() => setFaults({ disk: diskFault(), core: coreFault() })), { defer: true }));
  createEffect(() => {
    document.documentElement.classList.toggle('practice', practice());
  });
  return (
    <>
      <Show when={practice()}>
        <p class="practice-word">{say('practice')}</p>
      </Show>
      <div class="faults" role="alert">
        <Show when={faults().disk}>
          <p class="high">! {say('disk.fault')}</p>
        </Show>
        <Show when={faults().core}>{(fault) => <p class="high">! {say('core.fault', { fault: fault() })}</p>}</Show>
      </div>
      <Switch fallback={<Cases />}>
        <Match when={route().screen === 'link'}>
          <Link />
        </Match>
        <Match when={route().screen === 'language'}>
          <LanguageChoice />
        </Match>
        <Match when={route().screen === 'read'}>
          <ReadSlip />
        </Match>
        <Match when={route().screen === 'start' && route().caseId}>{(id) => <Start caseId={id()} />}</Match>
        <Match when={route().screen === 'case' && route().caseId} keyed>
          {(id) => <CaseFrame caseId={id} />}
        </Match>
      </Switch>
      <Show when={stop()} keyed>
        {(card) => <StopCard stop={card} />}
      </Show>
      <Show when={wetSince()} keyed>
        {(since) => <WetCard since={since} />}
      </Show>
    </>
  );
}
