// Numbers, units and times as people read them: no trailing zeros, a leading zero, thin groups from 10 000, 24 h clock.
import { isolated } from './isolate.ts';
import { hasMessage, localeTag, message, say } from './messages.ts';

/** At most so many decimals, none that are zero. */
export function figure(value: number, decimals = 2): string {
  const text = String(Number(value.toFixed(decimals)));
  if (Math.abs(value) < 10_000) return text;
  return text.replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
}

export function withUnit(value: number, unit: string, decimals = 2): string {
  const number = figure(value, decimals);
  const name =
    number === '1' && hasMessage('unit', `${unit}.one`) ? message('unit', `${unit}.one`)
    : hasMessage('unit', unit) ? message('unit', unit)
    : unit;
  return name === '' ? number : isolated(`${number}\u00a0${name}`); // a number stays with its unit
}

export function sensibleDecimals(value: number, unit: string): number {
  const coarse = ['mL', 'mL/h', 'min', 'percent'].includes(unit);
  return coarse ? (value < 100 ? 1 : 0) : 2;
}

const two = (value: number) => String(value).padStart(2, '0');

/** The clock on the wall, with the day when it is not today. */
export function clockText(at: string | number, now: number = Date.now()): string {
  const [moment, today] = [new Date(at), new Date(now)];
  const time = `${two(moment.getHours())}:${two(moment.getMinutes())}`;
  if (moment.toDateString() === today.toDateString()) return time;
  return `${moment.getDate()} ${moment.toLocaleString(localeTag(), { month: 'short' })} ${time}`;
}

/** "now", "6 min", "1 h 20 min", "2 d". */
export function spanText(ms: number): string {
  const minutes = Math.floor(Math.abs(ms) / 60_000);
  if (minutes < 60) return say('span.min', { min: minutes });
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return say('span.days', { days: Math.floor(hours / 24) });
  return say('span.hours', { h: hours, min: minutes % 60 });
}

/** Hours and minutes since, for the strip: "0:22". */
export function sinceText(ms: number): string {
  const minutes = Math.max(0, Math.floor(ms / 60_000));
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}`;
}
