// Asks the core's worker. Answers come back in the order asked.
import type { Entry } from '../store/entry.ts';
import type { Advice, Choices, Problem, Verdict } from './answers.ts';

const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
const waiting = new Map<number, { resolve: (answer: string) => void; reject: (fault: Error) => void }>();
let asked = 0;

worker.addEventListener('message', (event: MessageEvent<{ id: number; answer?: string; fault?: string }>) => {
  const { id, answer, fault } = event.data;
  const caller = waiting.get(id);
  waiting.delete(id);
  if (answer === undefined) caller?.reject(new Error(fault));
  else caller?.resolve(answer);
});

/** The core's own bytes, for whoever must compare them. */
export function callText(request: unknown): Promise<string> {
  asked += 1;
  const id = asked;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, request: JSON.stringify(request) });
  });
}

export class Refused extends Error {
  constructor(readonly problems: Problem[]) {
    super(problems.map((problem) => problem.sentence).join(' '));
  }
}

/** Any request; throws what the core refuses. */
export async function call<T>(request: unknown): Promise<T> {
  const answer = JSON.parse(await callText(request)) as T & { problems?: Problem[] };
  if (Array.isArray(answer.problems)) throw new Refused(answer.problems);
  return answer;
}

export const adviceOn = (entries: readonly Entry[], now: string) => call<Advice>({ do: 'advise', entries, now });
export const mayRecord = (entries: readonly Entry[], entry: Entry, now: string) =>
  call<Verdict>({ do: 'may', entries, entry, now });
export const readChoices = () => call<Choices>({ do: 'choices' });
