import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import catalogue from '../../../i18n/en.json';
import own from '../words/en.json';
import type { Choices, Due } from './answers.ts';
import { dueAct, usualFor } from './dueActs.ts';
import { type Core, loadCore } from './module.ts';

let core: Core;
let choices: Choices;

beforeAll(async () => {
  core = await loadCore(readFileSync(new URL('./stanch_core.wasm', import.meta.url)));
  choices = JSON.parse(core('{"do":"choices"}')) as Choices;
});

const due = (id: string, more: Partial<Due> = {}): Due => ({ id, priority: 'medium', standing: 'due', reasons: [], ...more });
const frame = { id: '01c2b7e9-4000-7000-8000-000000000001', case: '01c2b631-cc00-7000-8000-000000000000', at: '2031-05-06T08:02:00Z', written: '2031-05-06T08:02:00Z', by: 'unclaimed', from: 'phone-1' };

test('what DONE writes is an entry the core reads, for every due row there are words for', () => {
  for (const key of Object.keys(catalogue)) {
    if (!key.startsWith('due.')) continue;
    const act = dueAct(due(key.slice(4), { about: key === 'due.put_in_line' ? '2' : undefined }), choices);
    if ('go' in act) continue;
    const entry = { ...frame, kind: act.done.kind, ...act.done.payload };
    const answer = JSON.parse(core(JSON.stringify({ do: 'may', entries: [], entry, now: frame.at }))) as { problems?: unknown; permission?: string };
    expect(answer.problems, key).toBeUndefined();
    expect(answer.permission, key).toBeDefined();
  }
});

describe('a dose that is due', () => {
  test('is written with the rest of how the ward gives it', () => {
    const act = dueAct(due('give_uterotonic', { about: 'oxytocin', arguments: { dose: 20, unit: 'IU', route: 'iv_infusion' } }), choices);
    expect(act).toMatchObject({ done: { kind: 'drug', payload: { drug: 'oxytocin', dose: 20, unit: 'IU', infusion: { ml: 1000 } } } });
  });
  test('opens the pad when the ward has no such usual dose', () => {
    expect(dueAct(due('give_uterotonic', { about: 'oxytocin', arguments: { dose: 7 } }), choices)).toHaveProperty('go');
  });
  test('is never one for prevention', () => {
    for (const drug of choices.drugs) expect(usualFor(choices, drug.id, {})?.use ?? 'treatment').toBe('treatment');
  });
});

test('every manoeuvre and finding of the choices has words', () => {
  const words = catalogue as Record<string, string>;
  for (const one of choices.manoeuvres) expect(words[`name.${one.id}`], one.id).toBeDefined();
  for (const drug of choices.drugs) for (const route of drug.routes) expect(words[`name.${route}`], route).toBeDefined();
});

test('every condition of the opening rule has the page’s words', () => {
  const answer = JSON.parse(core(JSON.stringify({ do: 'advise', entries: demo('relapse-unwrapping'), now: '2031-05-06T10:00:00Z' }))) as {
    known: { readiness: { conditions: { id: string }[] } };
  };
  const conditions = answer.known.readiness.conditions;
  expect(conditions.length).toBeGreaterThan(0);
  for (const one of conditions) expect((own as Record<string, string>)[`condition.${one.id}`], one.id).toBeDefined();
});

function demo(name: string): unknown[] {
  return readFileSync(new URL(`../../../demo/${name}.ndjson`, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as unknown);
}
