// Which digits a field can still take. A digit that could only lead out of the likely range is dimmed before it is
// pressed; a number is complete when no further digit could be right, and the next field then takes over by itself. A
// leading 0 opens the wider range of what the record can hold, for the rare true value outside the likely one.
import type { FieldRange } from '../core/answers.ts';

export interface Grammar {
  low: number;
  high: number;
  likelyLow: number;
  likelyHigh: number;
  decimals: number;
}

export function grammarOf(range: FieldRange, decimals: number): Grammar {
  const [low, high] = [range.low ?? 0, range.high ?? 0];
  return {
    low,
    high,
    likelyLow: Math.max(low, range.usual_low ?? low),
    likelyHigh: Math.min(high, range.usual_high ?? high),
    decimals: range.type === 'whole' ? 0 : decimals,
  };
}

const widens = (text: string, g: Grammar) => text.startsWith('0') && g.likelyLow >= 1;

function bounds(text: string, g: Grammar): [number, number] {
  return widens(text, g) ? [g.low, g.high] : [g.likelyLow, g.likelyHigh];
}

/** Could this beginning still become a number in range? */
function canBecome(text: string, g: Grammar): boolean {
  if (text === '') return true;
  const [low, high] = bounds(text, g);
  const body = widens(text, g) ? text.slice(1) : text;
  if (body === '') return true;
  if (!/^\d+(\.\d*)?$/.test(body)) return false;
  if (/^0\d/.test(body)) return false; // one leading 0 is enough
  const [whole, part] = body.split('.') as [string, string | undefined];
  if (part !== undefined) {
    if (g.decimals === 0 || part.length > g.decimals) return false;
    const value = Number(`${whole}.${part || '0'}`);
    const step = 10 ** -part.length;
    return value <= high && value + step > low && (value >= low || value + step > low);
  }
  const value = Number(whole);
  for (let more = 0, factor = 1; more <= String(Math.floor(high)).length; more += 1, factor *= 10) {
    if (whole === '0' && more > 0) break;
    const top = (value + 1) * factor - (g.decimals > 0 ? 10 ** -g.decimals : 1);
    if (value * factor <= high && top >= low) return true;
  }
  return false;
}

/** What the text is after this key, or undefined when the key is dimmed. */
export function pressed(text: string, key: string, g: Grammar): string | undefined {
  if (key === 'back') return text === '' ? undefined : text.slice(0, -1);
  if (key === '.' && (text === '' || text.includes('.'))) return undefined;
  const next = text + key;
  return canBecome(next, g) && next !== '00' ? next : undefined;
}

/** The number, when the text is one in range. */
export function valueOf(text: string, g: Grammar): number | undefined {
  if (text === '' || text.endsWith('.')) return undefined;
  const value = Number(text);
  const [low, high] = bounds(text, g);
  return Number.isFinite(value) && value >= low && value <= high ? value : undefined;
}

/** How a number would have been typed: with a leading 0 where it is outside the likely range. */
export function typedText(value: number, g: Grammar): string {
  const text = String(value);
  return valueOf(text, g) === undefined && valueOf(`0${text}`, g) !== undefined ? `0${text}` : text;
}

/** A number that no further digit could belong to. */
export function isComplete(text: string, g: Grammar): boolean {
  if (valueOf(text, g) === undefined) return false;
  return !['.', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9'].some((key) => pressed(text, key, g) !== undefined);
}
