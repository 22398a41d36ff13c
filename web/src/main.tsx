import { render } from 'solid-js/web';
import { App } from './App.tsx';
import { startClock } from './parts/clock.ts';
import { watchTouches } from './parts/calm.ts';
import { startCore } from './parts/live.tsx';
import { replace, startRoute } from './parts/route.ts';
import { applyTheme, startTheme } from './parts/theme.ts';
import { openRecord } from './store/record.ts';
import { enrol, startLink } from './sync/link.ts';
import './page.css';

applyTheme();
watchTouches(document);
startRoute();
startClock();
void startCore();
await openRecord();
await startTheme();
render(() => <App />, document.getElementById('page')!);
await startLink();

// A ward's phone is joined by opening the address that the server printed.
const code = /^#enrol=(.+)$/.exec(location.hash)?.[1];
if (code !== undefined) {
  const refused = await enrol(decodeURIComponent(code));
  if (refused === undefined) replace();
  else replace('link');
}
if ('serviceWorker' in navigator && import.meta.env.PROD) void navigator.serviceWorker.register('./sw.js').catch(() => {});
