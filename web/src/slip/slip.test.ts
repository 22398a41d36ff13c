// Two phones, each with its own store and the real core: a case goes from one to the other by the texts of symbols.
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadCore } from '../core/module.ts';
import type { Entry } from '../store/entry.ts';
import { newId, timeText } from '../store/ids.ts';
import { type Keeper, ownKey } from './keys.ts';
import { type Ask, collect, makeSlip, readSlip } from './slip.ts';

let ask: Ask;
beforeAll(async () => {
  const core = await loadCore(readFileSync(new URL('../core/stanch_core.wasm', import.meta.url)));
  ask = async <T>(request: unknown) => {
    const answer = JSON.parse(core(JSON.stringify(request))) as T & { problems?: { sentence: string }[] };
    if (answer.problems) throw new Error(answer.problems.map((problem) => problem.sentence).join(' '));
    return answer;
  };
});

function phone(): Keeper {
  const kept = new Map<string, unknown>();
  return { setting: async <T>(name: string) => kept.get(name) as T | undefined, keep: async (name, value) => void kept.set(name, value) };
}

const start = Date.parse('2031-05-06T08:00:00Z');
const caseId = newId(start);
const entries: Entry[] = Array.from({ length: 40 }, (_, i) => {
  const at = timeText(start + i * 61_234);
  const said = i === 0 ? { kind: 'opened', label: 'Bed 4' } : { kind: 'vitals', pulse: 90 + i, sbp: 100 - i };
  return { id: newId(start + i * 61_234), case: caseId, at, written: at, by: 'S. Orin', from: 'phone-1', ...said };
});
const now = entries.at(-1)!.written;
const handing = { entries, now, sender: 'Fennel Row', author: 'S. Orin' };
const byId = (a: Entry, b: Entry) => (a.id < b.id ? -1 : 1);

describe('a slip', () => {
  it('carries a case to a phone that knows the key, symbols in any order', async () => {
    const key = await ownKey(phone());
    const slip = await makeSlip(ask, key, handing);
    expect(slip.symbols.length).toBeLessThanOrEqual(3);
    const { slips: some, refused } = await collect(ask, [slip.symbols.at(-1)!, 'a shopping list']);
    expect(some).toHaveLength(1);
    expect(refused).toHaveLength(1);
    expect(some[0]!.missing).toHaveLength(slip.symbols.length - 1);
    const found = (await collect(ask, [...slip.symbols].reverse())).slips[0];
    expect(found!.jws).toBe(slip.jws);
    const taken = await readSlip(ask, [key.publicKey], found!.jws!, now);
    expect(taken.trust).toBe('known');
    expect(taken.about.sender).toBe('Fennel Row');
    expect([...taken.entries].sort(byId)).toEqual([...entries].sort(byId));
  });

  it('of a key that is not known is shown as that', async () => {
    const slip = await makeSlip(ask, await ownKey(phone()), handing);
    const other = await ownKey(phone());
    const taken = await readSlip(ask, [other.publicKey], slip.jws, now);
    expect(taken.trust).toBe('unknown');
    expect(taken.entries).toHaveLength(40);
  });

  it('with another payload under a known key gives no entries', async () => {
    const key = await ownKey(phone());
    const slip = await makeSlip(ask, key, handing);
    const other = await makeSlip(ask, key, { ...handing, entries: entries.slice(0, 3) });
    const [header, , signature] = slip.jws.split('.');
    const forged = [header, other.jws.split('.')[1], signature].join('.');
    const taken = await readSlip(ask, [key.publicKey], forged, now);
    expect(taken.trust).toBe('wrong');
    expect(taken.entries).toEqual([]);
  });

  it('is refused in a sentence when there is nothing to hand over', async () => {
    await expect(makeSlip(ask, await ownKey(phone()), { ...handing, entries: [] })).rejects.toThrow('entries');
  });
});

describe("a phone's key", () => {
  it('stays the same and never leaves the browser', async () => {
    const keeper = phone();
    const first = await ownKey(keeper);
    expect((await ownKey(keeper)).publicKey).toEqual(first.publicKey);
    const pair = await keeper.setting<CryptoKeyPair>('slip_key');
    expect(pair!.privateKey.extractable).toBe(false);
    await expect(crypto.subtle.exportKey('jwk', pair!.privateKey)).rejects.toThrow();
  });

  it('signs what a server verifies, and a signature of Ed25519 is judged too (RFC 8037 appendix A.4)', async () => {
    const { verify } = await import('./keys.ts');
    const key = { kty: 'OKP', crv: 'Ed25519', x: '11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo' };
    const signature = 'hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg';
    const text = 'eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc';
    expect(await verify(key, text, signature)).toBe('known');
    expect(await verify(key, `${text}x`, signature)).toBe('wrong');
  });
});
