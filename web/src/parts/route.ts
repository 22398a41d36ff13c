// Where in the page we are, kept in the address so that the phone's own back key works: "" (cases), "start", "link", "language",
// "read", or "case/ID" with at most one thing open over it.
import { createSignal } from 'solid-js';
import { afterPaint } from './paint.ts';

export interface Route {
  screen: 'cases' | 'start' | 'link' | 'language' | 'read' | 'case';
  caseId: string;
  open: string;
  subject: string;
}

function read(hash: string): Route {
  const [screen = '', caseId = '', open = '', subject = ''] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  if (screen === 'case' && caseId) return { screen: 'case', caseId, open, subject };
  if (screen === 'start' && caseId) return { screen: 'start', caseId, open: '', subject: '' };
  if (screen === 'link' || screen === 'language' || screen === 'read') return { screen, caseId: '', open: '', subject: '' };
  return { screen: 'cases', caseId: '', open: '', subject: '' };
}

const [route, setRoute] = createSignal(read(location.hash));
export { route };

// The address follows the screen, in the order of the taps: telling the browser takes about as long as the screen itself.
let unwritten: (() => void)[] = [];

function show(parts: string[], write: 'pushState' | 'replaceState'): void {
  const hash = `#/${parts.map(encodeURIComponent).join('/')}`;
  unwritten.push(() => history[write](null, '', hash));
  setRoute(read(hash));
  afterPaint(() => {
    for (const step of unwritten.splice(0)) step();
  });
}

export function startRoute(): void {
  // The phone's back key, or an address typed in: what was not yet written is overtaken.
  const follow = () => {
    unwritten = [];
    setRoute(read(location.hash));
  };
  addEventListener('popstate', follow);
  addEventListener('hashchange', follow);
}

export const go = (...parts: string[]): void => show(parts, 'pushState');

/** As go, without a step to come back to. */
export const replace = (...parts: string[]): void => show(parts, 'replaceState');
