// The ward server's few routes, as functions. A fault carries the status, so that the link can tell "not reached" from
// "not enrolled" and "not taken".
import type { Entry } from '../store/entry.ts';

export class ServerFault extends Error {
  constructor(
    readonly status: number,
    message: string,
  ) {
    super(message);
  }
}

export interface Health {
  status: string;
  practice?: boolean;
  record: string;
  cursor: number;
}

export interface Batch {
  entries: { seq: number; entry: Entry }[];
  cursor: number;
  more?: boolean;
}

export interface Taken {
  accepted: string[];
  already: string[];
  refused: { line: number; id?: string; problems: { sentence: string }[] }[];
  cursor: number;
}

const patience = 20_000; // a request that has not answered by then is given up and tried again

async function answer<T>(path: string, init: RequestInit = {}): Promise<T> {
  const response = await fetch(path, { cache: 'no-store', signal: AbortSignal.timeout(patience), ...init });
  const text = await response.text();
  if (!response.ok) throw new ServerFault(response.status, sentenceIn(text) ?? `${response.status}`);
  return JSON.parse(text) as T;
}

function sentenceIn(text: string): string | undefined {
  try {
    const body = JSON.parse(text) as { error?: { sentence?: string }; problems?: { sentence: string }[] };
    return body.error?.sentence ?? body.problems?.map((problem) => problem.sentence).join(' ');
  } catch {
    return undefined;
  }
}

const bearer = (token: string) => ({ Authorization: `Bearer ${token}` });

export const health = () => answer<Health>('health');

export const enrol = (code: string, device: string) =>
  answer<{ device: string; token: string }>('api/enrol', {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ code, device }),
  });

export const send = (token: string, entries: readonly Entry[], clock: string) =>
  answer<Taken>('api/entries', {
    method: 'POST',
    headers: { ...bearer(token), 'Content-Type': 'application/x-ndjson', 'X-Stanch-Clock': clock },
    body: entries.map((entry) => JSON.stringify(entry) + '\n').join(''),
  });

/** The stream of what others write, from after a cursor on; the caller aborts it. */
export async function live(token: string, after: number, signal: AbortSignal): Promise<ReadableStream<Uint8Array>> {
  const response = await fetch(`api/live?after=${after}`, { headers: bearer(token), cache: 'no-store', signal });
  if (!response.ok || !response.body) throw new ServerFault(response.status, `${response.status}`);
  return response.body;
}
