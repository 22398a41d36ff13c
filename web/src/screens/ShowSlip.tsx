// The hand-over code: the case as it stands now in one to three symbols, one large one at a time, and what it lacks.
import { Match, Show, Switch, createMemo, createResource, createSignal, onMount } from 'solid-js';
import { call } from '../core/client.ts';
import { Sheet } from '../parts/Sheet.tsx';
import { keepAwake } from '../parts/awake.ts';
import { useLive } from '../parts/live.tsx';
import { inFours, keyText } from '../slip/known.ts';
import { type SigningKey, ownKey } from '../slip/keys.ts';
import { makeSlip } from '../slip/slip.ts';
import { drawSymbol } from '../slip/symbol.ts';
import { someoneHere } from '../store/entry.ts';
import { timeText } from '../store/ids.ts';
import { clockOffset, corrected, deviceId, settings, who } from '../store/record.ts';
import { practice } from '../sync/link.ts';
import { kindsText, sumOf } from '../words/slipText.ts';
import { nameOf, say } from '../words/messages.ts';

// Of the window's height, so that keys and words stay in view. A key's symbol has fewer and larger modules.
const slipShare = 0.6;
const keyShare = 0.42;

function Symbol(props: { text: string; label: string; share: number }) {
  const drawing = createMemo(() => drawSymbol(props.text));
  let box!: HTMLDivElement;
  const [width, setWidth] = createSignal(320);
  onMount(() => setWidth(box.clientWidth));
  // A module is a whole number of the screen's own dots: blurred edges cost readers more than size does.
  const side = () => {
    const dots = devicePixelRatio || 1;
    return (Math.max(1, Math.floor((Math.min(width(), innerHeight * props.share) * dots) / drawing().size)) * drawing().size) / dots;
  };
  return (
    <div ref={box}>
      <svg class="symbol" role="img" aria-label={props.label} width={side()} height={side()} viewBox={`0 0 ${drawing().size} ${drawing().size}`} shape-rendering="crispEdges">
        <rect width="100%" height="100%" fill="#ffffff" />
        <path d={drawing().path} fill="#000000" />
      </svg>
    </div>
  );
}

export function ShowSlip() {
  const live = useLive();
  keepAwake();
  const sender = () => {
    const at = live.entries().findLast((one) => one.kind === 'place' && String(one.where).startsWith('facility:') && !live.struck().has(one.id));
    return at ? nameOf(String(at.where)) : deviceId();
  };
  // Made once for each opening: a code that changed under the other phone's camera would never be read whole.
  const [made] = createResource(async () => {
    if (crypto.subtle === undefined) throw new Error(say('slip.insecure'));
    const key: SigningKey = await ownKey(settings());
    const { kid } = await call<{ kid: string }>({ do: 'slip_key', key: key.publicKey });
    const slip = await makeSlip(call, key, {
      entries: corrected(live.entries()),
      now: timeText(Date.now() - clockOffset()),
      sender: sender(),
      practice: practice(),
      author: who() === someoneHere ? say('who.someone') : who(),
    });
    return { slip, kid, key: keyText(key.publicKey) };
  });
  const [at, setAt] = createSignal(0);
  const [keyShown, setKeyShown] = createSignal(false);
  return (
    <Sheet title={keyShown() ? say('slip.key') : say('slip.title')}>
      <Switch fallback={<p role="status">{say('slip.drawing')}</p>}>
        <Match when={made.error as Error | undefined}>{(fault) => <p role="alert">{fault().message}</p>}</Match>
        <Match when={made()}>
          {(ready) => {
            const of = () => ready().slip.symbols.length;
            const about = () => ready().slip.about;
            const left = () => sumOf(about().left_out);
            const turn = (by: number) => setAt((at() + by + of()) % of());
            return (
              <>
                <Symbol
                  share={keyShown() ? keyShare : slipShare}
                  text={keyShown() ? ready().key : ready().slip.symbols[at()]!}
                  label={keyShown() ? say('slip.picture_key') : say('slip.picture', { n: at() + 1, of: of() })}
                />
                <Show when={!keyShown() && of() > 1}>
                  <div class="turn">
                    <button type="button" class="key" aria-label={say('slip.before')} onClick={() => turn(-1)}>
                      ‹
                    </button>
                    <b role="status">{say('slip.of', { n: at() + 1, of: of() })}</b>
                    <button type="button" class="key" aria-label={say('slip.next')} onClick={() => turn(1)}>
                      ›
                    </button>
                  </div>
                </Show>
                <div class="scroll slip-words" tabindex="0" role="region" aria-label={say('slip.title')}>
                  <Show when={!keyShown()} fallback={<p>{say('slip.key_how')}</p>}>
                    <p>{say('slip.how', { n: of() })}</p>
                    <p>
                      {left() > 0 ?
                        say('slip.left_out', { left: left(), total: about().total, kinds: kindsText(about().left_out) })
                      : say('slip.all_in', { total: about().total })}
                    </p>
                  </Show>
                  <p>
                    {say('slip.by', { device: deviceId() })} <code class="thumbprint">{inFours(ready().kid)}</code>
                  </p>
                  <button type="button" class="key small" onClick={() => setKeyShown(!keyShown())}>
                    {keyShown() ? say('slip.symbols') : say('slip.key')}
                  </button>
                </div>
              </>
            );
          }}
        </Match>
      </Switch>
    </Sheet>
  );
}
