// Day, night, or as the phone is set; kept on this phone.
import { createSignal } from 'solid-js';
import { settings } from '../store/record.ts';

export type Theme = 'auto' | 'day' | 'night';
const [theme, setThemeSignal] = createSignal<Theme>('auto');
export { theme };

export function applyTheme(): void {
  document.documentElement.dataset.theme = theme();
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
