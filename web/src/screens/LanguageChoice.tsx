// The language of this phone. Each is named in itself, so that nobody has to read the one before.
import { For, Show, createSignal } from 'solid-js';
import { BackToCases } from '../parts/BackToCases.tsx';
import { go } from '../parts/route.ts';
import { type Language, directionOf, language, languages, setLanguage } from '../words/language.ts';
import { say } from '../words/messages.ts';

export function LanguageChoice() {
  const [failed, setFailed] = createSignal(false);
  const choose = (code: Language) => {
    setFailed(false);
    void setLanguage(code).catch(() => setFailed(true));
  };
  return (
    <main class="plain">
      <BackToCases title={say('language.title')} />
      <ul class="languages">
        <For each={Object.entries(languages) as [Language, string][]}>
          {([code, name]) => (
            <li>
              <button type="button" class="key wide" lang={code} dir={directionOf(code)} aria-pressed={language() === code} onClick={() => choose(code)}>
                {name}
              </button>
            </li>
          )}
        </For>
      </ul>
      <p role="alert">
        <Show when={failed()}>{say('language.not_here')}</Show>
      </p>
      <p class="noted">{say('language.review')}</p>
    </main>
  );
}

/** A globe: what leads here must be known without being read. */
export function LanguageKey() {
  return (
    <button type="button" class="key small language-key" aria-label={say('language.title')} onClick={() => go('language')}>
      <svg viewBox="0 0 24 24" width="26" height="26" fill="none" stroke="currentColor" stroke-width="1.8" aria-hidden="true">
        <circle cx="12" cy="12" r="10" />
        <ellipse cx="12" cy="12" rx="4.5" ry="10" />
        <path d="M2 12h20M4 6.5h16M4 17.5h16" />
      </svg>
    </button>
  );
}
