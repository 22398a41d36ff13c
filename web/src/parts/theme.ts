// Day, night, or as the phone is set; kept on this phone.
import { createSignal } from 'solid-js';
import { settings } from '../store/record.ts';

export type Theme = 'auto' | 'day' | 'night';
const [theme, setThemeSignal] = createSignal<Theme>('auto');
export { theme };

const dark = matchMedia('(prefers-color-scheme: dark)');
dark.addEventListener('change', () => applyTheme());

export function applyTheme(): void {
  document.documentElement.dataset.theme = theme() === 'auto' ? (dark.matches ? 'night' : 'day') : theme();
}

export async function startTheme(): Promise<void> {
  setThemeSignal((await settings().setting<Theme>('theme')) ?? 'auto');
  applyTheme();
}

export async function setTheme(next: Theme): Promise<void> {
  setThemeSignal(next);
  applyTheme();
  await settings().keep('theme', next);
}
