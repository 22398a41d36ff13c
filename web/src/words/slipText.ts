// What a slip lacks, in words.
import { figure } from './figures.ts';
import { commas, hasMessage, message, say } from './messages.ts';

const kindText = (kind: string) => (hasMessage('kind', kind) ? message('kind', kind) : kind.replaceAll('_', ' '));

export const kindsText = (counts: Record<string, number>): string =>
  commas(Object.entries(counts).map(([kind, n]) => say('slip.left_kind', { kind: kindText(kind), n: figure(n) })));

export const sumOf = (counts: Record<string, number>): number => Object.values(counts).reduce((sum, n) => sum + n, 0);
