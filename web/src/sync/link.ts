// Keeps the phone and the ward's server in step: sends what was written here, takes in what others wrote. Nothing at the
// bedside ever waits for it.
import { createSignal } from 'solid-js';
import { beginWith, cases, confirmSent, deviceId, markRefused, receive, renameDevice, settings, toSend } from '../store/record.ts';
import { timeText } from '../store/ids.ts';
import { waitBefore } from './backoff.ts';
import { type Batch, type Health, ServerFault, enrol as askEnrol, health, live, send } from './server.ts';
import { EventReader } from './sse.ts';

export type LinkState = 'alone' | 'connecting' | 'in_step' | 'sending' | 'away' | 'apart';

const [state, setState] = createSignal<LinkState>('connecting');
const [practice, setPractice] = createSignal(false);
const [token, setToken] = createSignal<string | undefined>();
export { state as linkState, practice, token };

const batchMost = 400;
const silenceMost = 40_000; // the server's heartbeat comes each 15 s; after this long the line counts as dead
let attempt = 0;
let wake: (() => void) | undefined;
let met = false; // whose record answers has been looked at; nothing is sent before
let sending = false;
let sendAgain = false;

const pause = (ms: number) =>
  new Promise<void>((resolve) => {
    const timer = setTimeout(resolve, ms);
    wake = () => {
      clearTimeout(timer);
      resolve();
    };
  });

/** Tries now instead of waiting: the network came back, or the phone was woken. */
export const tryNow = () => wake?.();

export async function startLink(): Promise<void> {
  setPractice((await settings().setting<boolean>('practice')) ?? false);
  setToken(await settings().setting<string>('token'));
  addEventListener('online', tryNow);
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && tryNow());
  void run();
}

/** @return a sentence when the code was not taken. */
export async function enrol(code: string): Promise<string | undefined> {
  try {
    const answer = await askEnrol(code.trim(), deviceId());
    await renameDevice(answer.device);
    await settings().keep('token', answer.token);
    setToken(answer.token);
    attempt = 0;
    tryNow();
    return undefined;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function run(): Promise<never> {
  for (;;) {
    try {
      const answer = await health();
      const key = token();
      met = await meet(answer);
      if (!met) setState('apart');
      else if (key === undefined) setState('alone');
      else {
        await sendAll();
        await follow(key);
      }
    } catch (error) {
      met = false;
      if (error instanceof ServerFault && (error.status === 401 || error.status === 403)) {
        await settings().drop('token');
        setToken(undefined);
        setState('alone');
      } else setState('away');
    }
    await pause(waitBefore(attempt, Math.random()));
    attempt += 1;
  }
}

/** Looks whose record answers. False when one side holds practice and the other a real ward: nothing goes between them. */
async function meet(answer: Health): Promise<boolean> {
  const isPractice = answer.practice === true;
  const before = await settings().setting<boolean>('practice');
  if (before !== undefined && before !== isPractice && cases().size > 0) return false;
  setPractice(isPractice);
  await settings().keep('practice', isPractice);
  const record = await settings().setting<string>('record');
  const cursor = (await settings().setting<number>('cursor')) ?? 0;
  // A cursor ahead of the server's: it went back to an older copy of the same record.
  if (record === undefined && cursor <= answer.cursor) await settings().keep('record', answer.record);
  else if (record !== answer.record || cursor > answer.cursor) await beginWith(answer.record);
  return true;
}

async function follow(key: string): Promise<void> {
  const stop = new AbortController();
  const after = (await settings().setting<number>('cursor')) ?? 0;
  const reader = (await live(key, after, stop.signal)).getReader();
  const events = new EventReader();
  attempt = 0;
  setState(toSend().length > 0 ? 'sending' : 'in_step');
  let silence = setTimeout(() => stop.abort(), silenceMost);
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) throw new Error('the server closed the line');
      clearTimeout(silence);
      silence = setTimeout(() => stop.abort(), silenceMost);
      for (const event of events.read(value)) if (event.event === 'entries') await takeIn(JSON.parse(event.data) as Batch);
    }
  } finally {
    clearTimeout(silence);
    stop.abort();
  }
}

async function takeIn(batch: Batch): Promise<void> {
  await receive(
    batch.entries.map((row) => row.entry),
    batch.cursor,
  );
}

/** Sends what waits; called at each save. Two calls at once send once. */
export async function sendAll(): Promise<void> {
  const key = token();
  if (key === undefined || !met) return;
  if (sending) {
    sendAgain = true;
    return;
  }
  sending = true;
  try {
    do {
      sendAgain = false;
      for (let batch = toSend().slice(0, batchMost); batch.length > 0; batch = toSend().slice(0, batchMost)) {
        setState('sending');
        const taken = await send(key, batch, timeText(Date.now()));
        await confirmSent([...taken.accepted, ...taken.already]);
        for (const refused of taken.refused) {
          const id = refused.id ?? batch[refused.line - 1]?.id;
          if (id) await markRefused(id, refused.problems.map((problem) => problem.sentence).join(' '));
        }
        if (taken.accepted.length + taken.already.length + taken.refused.length === 0)
          throw new Error('the server answered for none of the entries');
      }
      if (state() === 'sending') setState('in_step');
    } while (sendAgain);
  } finally {
    sending = false;
  }
}

/** At each save: send, and if that fails let the link's own loop try again. */
export function sendSoon(): void {
  sendAll().catch(() => setState('away'));
}
