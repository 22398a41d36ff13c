// This phone: whether it is joined to a ward's server, and its colours.
import { For, Show, createSignal } from 'solid-js';
import { BackToCases } from '../parts/BackToCases.tsx';
import { linkWords } from '../parts/LinkMark.tsx';
import { type Theme, setTheme, theme } from '../parts/theme.ts';
import { deviceId, outbox } from '../store/record.ts';
import { enrol, token } from '../sync/link.ts';
import { westernDigits } from '../words/digits.ts';
import { say } from '../words/messages.ts';

const themes: Theme[] = ['auto', 'day', 'night'];

export function Link() {
  const [fault, setFault] = createSignal<string | undefined>();
  let code!: HTMLInputElement;
  const refused = () => [...outbox().values()].filter((row) => row.refused !== undefined);
  return (
    <main class="plain">
      <BackToCases title={say('link.title')} />
      <p>{token() ? say('link.joined', { device: deviceId() }) : say('link.not_joined')}</p>
      <p role="status">{linkWords()}</p>
      <Show when={refused()[0]}>
        {(row) => <p class="noted">{say('link.refused', { n: refused().length, sentence: row().refused! })}</p>}
      </Show>
      <Show when={!token()}>
        <form
          class="inline"
          onSubmit={(event) => {
            event.preventDefault();
            void enrol(westernDigits(code.value)).then(setFault);
          }}
        >
          <label>
            {say('link.code')}
            <input ref={code} dir="ltr" autocomplete="off" autocapitalize="off" spellcheck={false} required />
          </label>
          <button type="submit" class="key act">
            {say('link.join')}
          </button>
        </form>
        <p role="alert">{fault()}</p>
      </Show>
      <div class="chips" role="group">
        <For each={themes}>
          {(one) => (
            <button type="button" class="chip" aria-pressed={theme() === one} onClick={() => void setTheme(one)}>
              {say(`theme.${one}`)}
            </button>
          )}
        </For>
      </div>
    </main>
  );
}
