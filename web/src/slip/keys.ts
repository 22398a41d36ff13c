// This phone's signing key, and signatures of others. The private half can't be read out, not even by this page: the
// browser keeps it (IndexedDB holds a handle) and signs with it. ES256, because browsers older than our floor have no
// Ed25519; slips of servers may come with either.

export interface PublicKey {
  kty: string;
  crv: string;
  x: string;
  y?: string;
}

export interface SigningKey {
  publicKey: PublicKey;
  /** 64 bytes in base64url. */
  sign(text: string): Promise<string>;
}

/** Where settings are kept; the record's database is one. */
export interface Keeper {
  setting<T>(name: string): Promise<T | undefined>;
  keep(name: string, value: unknown): Promise<void>;
}

export type Trust = 'known' | 'unknown' | 'wrong';

const es256 = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' };
const utf8 = new TextEncoder();

export function toBase64Url(bytes: ArrayBuffer): string {
  return btoa(String.fromCharCode(...new Uint8Array(bytes)))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (c) => c.charCodeAt(0));
}

/** The key of this phone; made at the first use and the same ever after. */
export async function ownKey(keeper: Keeper): Promise<SigningKey> {
  let pair = await keeper.setting<CryptoKeyPair>('slip_key');
  if (pair === undefined) {
    pair = await crypto.subtle.generateKey(es256, false, ['sign', 'verify']);
    await keeper.keep('slip_key', pair);
  }
  const { kty, crv, x, y } = await crypto.subtle.exportKey('jwk', pair.publicKey);
  const { privateKey } = pair;
  return {
    publicKey: { kty: kty!, crv: crv!, x: x!, y: y! },
    sign: async (text) => toBase64Url(await crypto.subtle.sign(es256, privateKey, utf8.encode(text))),
  };
}

/** Whether the holder of this key signed the text. A browser that can't judge the algorithm says that it doesn't know. */
export async function verify(key: PublicKey, text: string, signature: string): Promise<Trust> {
  const algorithm = key.kty === 'OKP' ? { name: 'Ed25519' } : es256;
  let imported: CryptoKey;
  try {
    imported = await crypto.subtle.importKey('jwk', { ...key }, algorithm, false, ['verify']);
  } catch {
    return 'unknown';
  }
  const right = await crypto.subtle.verify(algorithm, imported, fromBase64Url(signature), utf8.encode(text));
  return right ? 'known' : 'wrong';
}
