// Items of an answer as lines: what is due, why, what is held and which limits are in force.
import type { Due, Guard, Reason, Watch } from '../core/answers.ts';
import { clockText, figure, sensibleDecimals, spanText, withUnit } from './figures.ts';
import { type Arguments, hasMessage, listOf, message, nameIn, nameOf, say, sentence } from './messages.ts';

const signs: Record<string, string> = { '<': 'below', '<=': 'at_most', '>': 'above', '>=': 'at_least' };
const signWords = (sign: string | undefined) => (sign && signs[sign] ? `${say(`limit.${signs[sign]}`)} ` : '');

function withAbout(group: string, id: string, about: string | undefined): string {
  const name = about ? nameIn(id, about) : '';
  const out = message(group, id, { about: name });
  return about && !hasMessage(group, id) ? `${out} ${name}` : out;
}

export function dueText(due: Due): string {
  const args: Arguments = { about: due.about ? nameOf(due.about) : '' };
  for (const [name, value] of Object.entries(due.arguments ?? {})) {
    if (typeof value === 'number') args[name] = figure(value);
    else if (name === 'unit') args[name] = message('unit', value);
    else args[name] = listOf(value, name === 'segments' ? 'then' : 'comma');
  }
  const out = message('due', due.id, args);
  return sentence(due.about && !hasMessage('due', due.id) ? `${out} ${nameOf(due.about)}` : out);
}

export function standingText(due: Due, now: number): string {
  const since = (at: string | undefined) => (at ? spanText(now - Date.parse(at)) : '');
  switch (due.standing) {
    case 'late':
      return say('standing.late', { span: since(due.late_at) });
    case 'overdue':
      if (due.due_at && now - Date.parse(due.due_at) < 60_000) return say('standing.now');
      return say('standing.overdue', { span: since(due.due_at) });
    case 'due':
      return due.due_at && Date.parse(due.due_at) > now ? say('standing.by', { time: clockText(due.due_at, now) }) : say('standing.now');
    default:
      return due.due_at ? say('standing.from', { time: clockText(due.due_at, now) }) : say('standing.soon');
  }
}

/** What was seen and the limit it met. */
export function reasonText(reason: Reason, now: number): string {
  const unit = reason.limit?.unit ?? '';
  let out = sentence(withAbout('reason', reason.id, reason.about));
  if (reason.seen !== undefined) out += `: ${withUnit(reason.seen, unit, sensibleDecimals(reason.seen, unit))}`;
  if (reason.at) out += reason.seen === undefined ? `${message('name', 'comma')}${clockText(reason.at, now)}` : ` ${say('at', { time: clockText(reason.at, now) })}`;
  if (reason.limit?.compare && typeof reason.limit.value === 'number')
    out += `; ${say('limit.words', { limit: signWords(reason.limit.compare) + withUnit(reason.limit.value, unit) })}`;
  return out;
}

/** Where the rule and its number come from. */
export function sourceText(reason: Reason): string {
  const parts = [reason.rule ?? ''];
  if (reason.limit?.source) parts.push(reason.limit.source);
  if (reason.limit?.status && message('status', reason.limit.status) !== reason.limit.source)
    parts.push(message('status', reason.limit.status));
  return parts.filter(Boolean).join(' · ');
}

export const guardTitle = (guard: Pick<Guard, 'act' | 'about'>) => sentence(withAbout('guard', guard.act, guard.about));

export function watchText(watch: Watch, now: number): string {
  let out = sentence(withAbout('watch', watch.id, watch.about));
  if (watch.limit !== undefined)
    out += `: ${watch.crossed ? `${say('watch.act_when')} ` : ''}${signWords(watch.crossed)}${withUnit(watch.limit, watch.unit ?? '')}`;
  if (watch.by) out += `${watch.limit === undefined ? ': ' : message('name', 'comma')}${clockText(watch.by, now)}`;
  return out;
}

export const noticeText = (notice: { id: string; about?: string }) =>
  sentence(withAbout('notice', notice.id, notice.about));
