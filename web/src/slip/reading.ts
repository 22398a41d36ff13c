// What was read so far, symbol by symbol, in any order, until a slip is whole.
import type { Problem } from '../core/answers.ts';
import { type Ask, type Found, collect } from './slip.ts';
import { keyIn } from './known.ts';
import type { PublicKey } from './keys.ts';

export type Step =
  | { is: 'nothing' } // read before
  | { is: 'refused'; sentence: string }
  | { is: 'more'; found: Found }
  | { is: 'whole'; jws: string }
  | { is: 'key'; key: PublicKey; kid: string };

const most = 32; // texts held at once; the core takes 64

// The line is that of the list the core was asked about, and nothing to the person who holds the camera.
const sentenceOf = (problems: readonly Problem[]) => problems.map((one) => one.sentence.replace(/^Line \d+: /, '')).join(' ');

export class Reading {
  private texts: string[] = [];

  constructor(
    private readonly ask: Ask,
    private readonly another: string,
  ) {}

  clear(): void {
    this.texts = [];
  }

  async add(text: string): Promise<Step> {
    if (this.texts.includes(text)) return { is: 'nothing' };
    if (text.trimStart().startsWith('{')) {
      const read = await keyIn(this.ask, text);
      return read ? { is: 'key', ...read } : { is: 'refused', sentence: this.another };
    }
    if (!text.startsWith('STANCH1/')) return { is: 'refused', sentence: this.another };
    const { slips, refused } = await collect(this.ask, [...this.texts.slice(-most), text]);
    if (refused.length > 0) return { is: 'refused', sentence: sentenceOf(refused) };
    this.texts = [...this.texts.slice(-most), text];
    const group = text.split('/')[3];
    const found = slips.find((one) => one.group === group);
    if (found === undefined) return { is: 'refused', sentence: this.another };
    if (found.missing.length > 0) return { is: 'more', found };
    this.clear();
    if (found.jws === undefined) return { is: 'refused', sentence: sentenceOf(found.problems ?? []) || this.another };
    return { is: 'whole', jws: found.jws };
  }
}
