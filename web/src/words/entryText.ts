// One entry as a line: "oxytocin 10 international units, into muscle". Follows the command line's wording, shorter by
// the kind's name, which the row's place already tells.
import type { Choices } from '../core/answers.ts';
import type { Entry } from '../store/entry.ts';
import { clockText, figure, withUnit } from './figures.ts';
import { isolated } from './isolate.ts';
import { commas, hasMessage, message, nameIn, say, whyText } from './messages.ts';

const usual = new Set(['treatment', 'given', 'manual', 'both']);
const subjects = new Set(['drug', 'fluid', 'product', 'who', 'method', 'action']);
const asWritten = new Set(['label', 'garment_id', 'blood_group', 'group']);
const wordsOfTheirOwn = new Set(['advice_declined', 'advice_shown', 'call', 'garment', 'opened', 'place', 'surgery']);

function goesWithoutSaying(entry: Entry, field: string, value: unknown): boolean {
  if (typeof value === 'boolean') return value === (field === 'done');
  if (field === 'tension' && value === 'ok') return entry.action === 'close';
  return typeof value === 'string' && usual.has(value) && entry.kind !== 'finding';
}

/** Advice is declined by its name: "open:ankle" of a stop, "give_uterotonic:oxytocin" of a due row. */
function adviceName(name: string): string {
  const [id = '', about = ''] = name.split(':');
  const text = message(hasMessage('guard', id) ? 'guard' : 'due', id, { about: about ? nameIn(id, about) : '' });
  return text.replace(/\s{2,}/g, ' ').replace(/[\s,:]+$/, ''); // its figures were the moment's, and are gone
}

function valueText(entry: Entry, field: string, value: unknown, unit: string): string {
  if (typeof value === 'number') return withUnit(value, unit);
  if (value === null) return message('name', 'no_clot');
  if (Array.isArray(value)) return commas(value.map((word) => nameIn(entry.kind, String(word)))) || nameIn('', 'none');
  if (typeof value !== 'string') return '';
  if (field === 'advice') return adviceName(value);
  if (field === 'why') return commas(value.split(', ').map(whyText));
  if (field.endsWith('_at')) return clockText(value, Date.parse(entry.at));
  return asWritten.has(field) && value !== 'unknown' ? isolated(value) : nameIn(entry.kind, value);
}

/** What a dose runs in and over which time. */
export function infusionText(infusion: { ml: number; over_min: number } | undefined): string {
  if (!infusion) return '';
  return infusion.over_min > 0 ?
      say('gave.in_over', { ml: figure(infusion.ml), min: figure(infusion.over_min) })
    : say('gave.in', { ml: figure(infusion.ml) });
}

function fieldText(entry: Entry, field: string, value: unknown, unit: string): string {
  if (field === 'infusion') {
    const { ml, over_min } = value as { ml: number; over_min: number };
    if (over_min === 0) return say('entry.in_ml', { ml: figure(ml) });
    return message('field', 'infusion', { ml: figure(ml), over_min: figure(over_min) });
  }
  const text = valueText(entry, field, value, unit);
  return message('field', field, { value: text, number: typeof value === 'number' ? figure(value) : text });
}

/** What an entry says, without its time. `choices` gives the order and units of the fields. */
export function entryText(entry: Entry, choices: Choices | undefined): string {
  const ranges = choices?.fields[entry.kind];
  if (ranges === undefined) return hasMessage('kind', entry.kind) ? message('kind', entry.kind) : say('entry.not_understood');
  const pair = entry.kind === 'vitals' && typeof entry.sbp === 'number' && entry.dbp !== undefined;
  let out = '';
  let separator = '';
  for (const [field, range] of Object.entries(orderedFields(entry.kind, ranges))) {
    const value = entry[field];
    if (value === undefined || goesWithoutSaying(entry, field, value)) continue;
    if (entry.kind === 'drug' && field === 'unit') continue;
    if (pair && field === 'dbp') continue;
    const unit = field === 'dose' ? String(entry.unit ?? '') : ((range as { unit?: string }).unit ?? '');
    const text =
      pair && field === 'sbp' ?
        message('field', 'bp', { sbp: figure(entry.sbp as number), dbp: figure(entry.dbp as number) })
      : fieldText(entry, field, value, unit);
    out += separator + text;
    separator = subjects.has(field) || (field === 'what' && entry.kind !== 'surgery') ? ' ' : message('name', 'comma');
  }
  if (entry.kind === 'strike') return say('entry.strike', { reason: out });
  if (wordsOfTheirOwn.has(entry.kind) && entry.kind !== 'opened') return `${message('kind', entry.kind)}: ${out}`;
  if (out === '') return entry.kind === 'opened' ? say('entry.started') : message('kind', entry.kind);
  return out;
}

// The core's table has its own order; JSON objects come sorted by name. What a line is about must come first.
const order: Record<string, string[]> = {
  vitals: ['pulse', 'sbp', 'dbp', 'rr', 'spo2', 'temp_c', 'avpu', 'cap_refill_s'],
  loss: ['method', 'level_ml', 'amount_ml', 'wet_g', 'dry_g'],
  drug: ['drug', 'dose', 'route', 'use', 'state', 'infusion'],
  fluid: ['fluid', 'ml', 'over_min'],
  blood: ['product', 'units', 'ml', 'g', 'group', 'crossmatched'],
  manoeuvre: ['what', 'done', 'ml'],
  finding: ['what', 'value'],
  call: ['who', 'state'],
  garment: ['action', 'segment', 'side', 'garment_id', 'tension', 'reason'],
  place: ['where', 'state', 'to'],
  surgery: ['state', 'what'],
  opened: ['label', 'birth_at', 'birth_mode', 'weight_kg'],
  advice_declined: ['advice', 'why'],
};

function orderedFields<T>(kind: string, ranges: Record<string, T>): Record<string, T> {
  const out: Record<string, T> = {};
  for (const field of order[kind] ?? []) if (field in ranges) out[field] = ranges[field]!;
  return { ...out, ...ranges };
}
