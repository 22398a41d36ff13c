// Where in the page we are, kept in the address so that the phone's own back key works: "" (cases), "start", "link",
// or "case/ID" with at most one thing open over it.
import { createSignal } from 'solid-js';

export interface Route {
  screen: 'cases' | 'start' | 'link' | 'case';
  caseId: string;
  open: string;
  subject: string;
}

function read(hash: string): Route {
  const [screen = '', caseId = '', open = '', subject = ''] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  if (screen === 'case' && caseId) return { screen: 'case', caseId, open, subject };
  if (screen === 'start' && caseId) return { screen: 'start', caseId, open: '', subject: '' };
  if (screen === 'link') return { screen: 'link', caseId: '', open: '', subject: '' };
  return { screen: 'cases', caseId: '', open: '', subject: '' };
}

const [route, setRoute] = createSignal(read(location.hash));
export { route };

export function startRoute(): void {
  addEventListener('popstate', () => setRoute(read(location.hash)));
  addEventListener('hashchange', () => setRoute(read(location.hash)));
}

export function go(...parts: string[]): void {
  history.pushState(null, '', `#/${parts.map(encodeURIComponent).join('/')}`);
  setRoute(read(location.hash));
}

/** As go, without a step to come back to. */
export function replace(...parts: string[]): void {
  history.replaceState(null, '', `#/${parts.map(encodeURIComponent).join('/')}`);
  setRoute(read(location.hash));
}
