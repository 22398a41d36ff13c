// The keys of others that this phone knows. A key travels as its public half, the JSON line that `stanch slip key` prints,
// in a symbol of its own.
import type { Ask } from './slip.ts';
import type { Keeper, PublicKey } from './keys.ts';

const setting = 'slip_known';

export const knownKeys = async (keeper: Keeper): Promise<PublicKey[]> => (await keeper.setting<PublicKey[]>(setting)) ?? [];

export async function learnKey(keeper: Keeper, key: PublicKey): Promise<void> {
  await keeper.keep(setting, [...(await knownKeys(keeper)), key]);
}

export function keyText({ kty, crv, x, y }: PublicKey): string {
  return JSON.stringify(y === undefined ? { crv, kty, x } : { crv, kty, x, y });
}

/** The key that a symbol's text is, with its thumbprint; nothing when it is none that slips are signed with. */
export async function keyIn(ask: Ask, text: string): Promise<{ key: PublicKey; kid: string } | undefined> {
  try {
    const { kty, crv, x, y } = JSON.parse(text) as PublicKey;
    const key = y === undefined ? { kty, crv, x } : { kty, crv, x, y };
    return { key, kid: (await ask<{ kid: string }>({ do: 'slip_key', key })).kid };
  } catch {
    return undefined;
  }
}

/** A thumbprint to be compared by eye or read aloud. */
export const inFours = (kid: string): string => kid.replace(/.{4}(?=.)/g, '$& ');
