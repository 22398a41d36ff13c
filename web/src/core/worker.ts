// Runs the core off the page's thread, so that a tap is never held up by a judgement. A module that has stopped is
// thrown away and loaded afresh for the next request.
import { type Core, startModule } from './module.ts';
import wasmUrl from './stanch_core.wasm?url';

let core: Promise<Core> | undefined = load();
core.catch(() => undefined); // whoever asks first hears of it

async function load(): Promise<Core> {
  const response = await fetch(wasmUrl);
  if (!response.ok) throw new Error(`the core could not be read (${response.status})`);
  return startModule(await WebAssembly.compileStreaming(response));
}

self.addEventListener('message', async (event: MessageEvent<{ id: number; request: string }>) => {
  const { id, request } = event.data;
  try {
    core ??= load();
    self.postMessage({ id, answer: (await core)(request) });
  } catch (error) {
    core = undefined;
    self.postMessage({ id, fault: error instanceof Error ? error.message : String(error) });
  }
});
