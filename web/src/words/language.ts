// The language that this phone speaks: the first time as the browser asks for, then as chosen here. English is part of the
// page; each other language is a file of its own, with its fonts, loaded when it is spoken.
import { createSignal } from 'solid-js';
import { settings } from '../store/record.ts';
import { setRightToLeft } from './isolate.ts';
import { type Words, speak } from './messages.ts';

/** Every language by its own name, in the order of the languages' codes. */
export const languages = { en: 'English', es: 'español', fr: 'français' } as const;
export type Language = keyof typeof languages;

const fromTheRight = new Set(['ar', 'fa', 'ps', 'ur']);
export const directionOf = (code: string) => (fromTheRight.has(code) ? 'rtl' : 'ltr');

const files: Record<Exclude<Language, 'en'>, () => Promise<{ default: Words }>> = {
  es: () => import('./languages/es.ts'),
  fr: () => import('./languages/fr.ts'),
};

const [language, setLanguageSignal] = createSignal<Language>('en');
export { language };

export const isLanguage = (code: unknown): code is Language => typeof code === 'string' && code in languages;

/** The first language of the browser's list that there are words in. */
export function preferred(wanted: readonly string[]): Language {
  for (const tag of wanted) {
    const code = tag.toLowerCase().split('-')[0];
    if (isLanguage(code)) return code;
  }
  return 'en';
}

async function use(code: Language): Promise<void> {
  if (code === 'en') speak('en');
  else speak(code, (await files[code]()).default);
  setRightToLeft(directionOf(code) === 'rtl');
  document.documentElement.lang = code;
  document.documentElement.dir = directionOf(code);
  setLanguageSignal(code);
}

/** Before the first screen. A language that cannot be loaded now leaves the page in English. */
export async function startLanguage(): Promise<void> {
  const kept = await settings().setting<string>('language');
  await use(isLanguage(kept) ? kept : preferred(navigator.languages)).catch((error: unknown) => console.warn(String(error)));
}

/** Speaks another language from now on; throws when its words cannot be loaded. */
export async function setLanguage(code: Language): Promise<void> {
  await use(code);
  await settings().keep('language', code);
  await keepLanguage();
}

/** Has the service worker keep the language's files for use with no network. */
export async function keepLanguage(): Promise<void> {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  (await navigator.serviceWorker.ready).active?.postMessage({ language: language() });
}
