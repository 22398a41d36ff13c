import { Show } from 'solid-js';
import { render } from 'solid-js/web';
import { App } from './App.tsx';
import { NoStore } from './screens/NoStore.tsx';
import { startClock } from './parts/clock.ts';
import { watchTouches } from './parts/calm.ts';
import { watchWater } from './parts/wet.ts';
import { startCore } from './parts/live.tsx';
import { replace, startRoute } from './parts/route.ts';
import { applyTheme, startTheme } from './parts/theme.ts';
import { openRecord } from './store/record.ts';
import { enrol, startLink } from './sync/link.ts';
import { keepLanguage, language, startLanguage } from './words/language.ts';
import './page.css';

applyTheme();
watchTouches(document);
watchWater(document);
startRoute();
startClock();
try {
  await openRecord();
  void startCore();
  await startTheme();
  await startLanguage();
  // Another language builds every screen anew: most words are put down once.
  const page = () => (
    <Show when={language()} keyed>
      <App />
    </Show>
  );
  render(page, document.getElementById('page')!);
  await startLink();
  await joinByAddress();
  await keepForOffline();
} catch (error) {
  // Without a store nothing could be kept, and a page that only looks as if it did would be worse than none.
  render(() => <NoStore fault={String(error)} />, document.getElementById('page')!);
}

// A ward's phone is joined by opening the address that the server printed.
async function joinByAddress(): Promise<void> {
  const code = /^#enrol=(.+)$/.exec(location.hash)?.[1];
  if (code === undefined) return;
  const refused = await enrol(decodeURIComponent(code));
  if (refused === undefined) replace();
  else replace('link');
}

async function keepForOffline(): Promise<void> {
  if ('serviceWorker' in navigator && import.meta.env.PROD) await navigator.serviceWorker.register('./sw.js').then(keepLanguage).catch(() => undefined);
}
