// A case handed over by slip (docs/formats/slip.md). The core chooses, packs, splits and reads; here is only what needs
// the browser's keys.
import type { Problem } from '../core/answers.ts';
import type { Entry } from '../store/entry.ts';
import { type PublicKey, type SigningKey, type Trust, verify } from './keys.ts';

/** Asks the core; throws what it refuses. */
export type Ask = <T>(request: unknown) => Promise<T>;

export interface About {
  case: string;
  made: string;
  until?: string;
  sender: string;
  author: string;
  head: string;
  total: number;
  left_out: Record<string, number>;
  /** Nothing of it is a real woman's. */
  practice?: boolean;
}

export interface Slip {
  about: About;
  symbols: string[];
  jws: string;
}

/** One slip that symbols were read of: what is missing, or the whole. */
export interface Found {
  group: string;
  total: number;
  missing: number[];
  jws?: string;
  /** Why what the symbols hold together is no slip. */
  problems?: Problem[];
}

export interface Taken {
  about: About;
  trust: Trust;
  kid: string;
  warnings: string[];
  refused: Problem[];
  /** Empty when the signature is wrong: such entries are not to be had. */
  entries: Entry[];
}

export interface Handing {
  entries: readonly Entry[];
  now: string;
  until?: string;
  sender: string;
  author: string;
  practice?: boolean;
  /** For paper that may get wet. */
  paper?: boolean;
}

export async function makeSlip(ask: Ask, key: SigningKey, handing: Handing): Promise<Slip> {
  const draft = await ask<{ about: About; signing_input: string }>({ do: 'slip_draft', key: key.publicKey, ...handing });
  const signature = await key.sign(draft.signing_input);
  const made = await ask<{ symbols: string[]; jws: string }>({
    do: 'slip_symbols',
    signing_input: draft.signing_input,
    signature,
    paper: handing.paper ?? false,
  });
  return { about: draft.about, ...made };
}

export interface Collected {
  slips: Found[];
  /** Texts that aren't taken: of other symbols, damaged, or against one that was read before. */
  refused: Problem[];
}

/** What the texts that a camera saw are. */
export const collect = (ask: Ask, texts: readonly string[]): Promise<Collected> => ask({ do: 'slip_collect', texts });

/** What a slip says, and whether one of the known keys signed it. */
export async function readSlip(ask: Ask, known: readonly PublicKey[], jws: string, now: string): Promise<Taken> {
  const read = await ask<Omit<Taken, 'trust'> & { alg: string; signing_input: string; signature: string }>({
    do: 'slip_read',
    jws,
    now,
  });
  let trust: Trust = 'unknown';
  for (const key of known) {
    const { alg, kid } = await ask<{ alg: string; kid: string }>({ do: 'slip_key', key });
    if (kid === read.kid) trust = alg === read.alg ? await verify(key, read.signing_input, read.signature) : 'wrong';
  }
  const { about, kid, warnings, refused, entries } = read;
  return { about, kid, warnings, refused, trust, entries: trust === 'wrong' ? [] : entries };
}
