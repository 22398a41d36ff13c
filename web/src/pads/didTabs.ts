// Under which tab of Did each thing stands.
import type { Choices } from '../core/answers.ts';
import type { Entry } from '../store/entry.ts';

export const tabs = ['first', 'look', 'hold', 'people', 'more'] as const;
export type Tab = (typeof tabs)[number];

export const groups: Record<Tab, string[]> = {
  first: ['first_response', 'access'],
  look: ['cause'],
  hold: ['mechanical'],
  people: [],
  more: ['support', 'surgical', 'imaging'],
};
export const seen: Record<Tab, string[]> = {
  first: ['tone', 'bleeding'],
  look: ['placenta', 'tear', 'haematoma', 'inversion', 'rupture', 'clotting', 'breathing', 'skin', 'pad', 'cause_tone', 'cause_trauma', 'cause_tissue', 'cause_thrombin'],
  hold: ['iv_running', 'helper', 'qualified_clinician'],
  people: ['anaesthetist_warned'],
  more: ['would_die_otherwise'],
};

/** Where an entry was written; nothing for a finding that another pad asks for. */
export function tabOf(entry: Entry, choices: Choices | undefined): Tab | undefined {
  if (entry.kind === 'call') return 'people';
  if (entry.kind === 'outcome') return 'more';
  if (entry.kind === 'finding') return tabs.find((tab) => seen[tab].includes(String(entry.what)));
  const group = choices?.manoeuvres.find((one) => one.id === entry.what)?.group;
  return tabs.find((tab) => group !== undefined && groups[tab].includes(group)) ?? 'first';
}
