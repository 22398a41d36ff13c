// Reads a hand-over code by camera or from photos, says what it holds, and takes it only when a person says so.
import { Match, Show, Switch, createSignal, onCleanup, onMount } from 'solid-js';
import { BackToCases } from '../parts/BackToCases.tsx';
import { call } from '../core/client.ts';
import { keepAwake } from '../parts/awake.ts';
import { useCamera } from '../parts/camera.ts';
import { replace } from '../parts/route.ts';
import { inFours, knownKeys, learnKey } from '../slip/known.ts';
import { type PublicKey, ownKey } from '../slip/keys.ts';
import { Eye } from '../slip/look.ts';
import { Reading } from '../slip/reading.ts';
import { type Taken, readSlip } from '../slip/slip.ts';
import { timeText } from '../store/ids.ts';
import { clockOffset, settings, takeOver } from '../store/record.ts';
import { practice, sendSoon } from '../sync/link.ts';
import { commas, say } from '../words/messages.ts';
import { SlipRead } from './SlipRead.tsx';

const faultText = (fault: unknown) => (fault instanceof Error ? fault.message : String(fault));

export function ReadSlip() {
  keepAwake();
  const eye = new Eye();
  onCleanup(() => eye.close());
  const reading = new Reading(call, say('slip.another'));
  const [progress, setProgress] = createSignal<string | undefined>();
  const [fault, setFault] = createSignal<string | undefined>();
  const [taken, setTaken] = createSignal<Taken | undefined>();
  const [key, setKey] = createSignal<{ key: PublicKey; kid: string } | undefined>();
  const asking = () => taken() !== undefined || key() !== undefined;
  // What a person left is not asked about again because the camera still points at it.
  const seen = new Set<string>();
  const left = new Set<string>();
  let video!: HTMLVideoElement;
  let photos!: HTMLInputElement;

  const known = async () => [(await ownKey(settings())).publicKey, ...(await knownKeys(settings()))];
  const add = async (text: string): Promise<void> => {
    if (crypto.subtle === undefined) return void setFault(say('slip.insecure'));
    try {
      const step = await reading.add(text);
      if (step.is === 'nothing') return;
      if (step.is === 'refused') return void setFault(step.sentence);
      if (step.is !== 'whole') setFault(undefined);
      if (step.is === 'more') {
        const { total, missing } = step.found;
        setProgress(say('slip.progress', { have: total - missing.length, of: total, missing: commas(missing.map(String)) }));
      }
      if (step.is === 'key') {
        const have = await Promise.all((await known()).map((one) => call<{ kid: string }>({ do: 'slip_key', key: one })));
        if (have.some(({ kid }) => kid === step.kid)) setProgress(say('slip.key_have'));
        else setKey(step);
      }
      if (step.is === 'whole') {
        setProgress(undefined);
        // Not the page's clock, which stands still between ticks: the sender's would seem ahead.
        const read = await readSlip(call, await known(), step.jws, timeText(Date.now() - clockOffset()));
        const isApart = (read.about.practice ?? false) !== practice();
        if (read.trust === 'wrong') setFault(say('slip.wrong'));
        else if (isApart) setFault(say(practice() ? 'slip.real' : 'slip.practice'));
        else {
          setFault(undefined);
          setTaken(read);
        }
      }
    } catch (error) {
      setFault(faultText(error));
    }
  };
  const camera = useCamera(
    () => video,
    async (frame) => {
      if (asking()) return;
      for (const text of await eye.inFrame(frame)) {
        if (asking() || left.has(text)) continue;
        seen.add(text);
        await add(text);
      }
    },
  );
  onMount(() => void camera.start());

  const addPhotos = async (files: readonly File[]): Promise<void> => {
    setFault(undefined);
    const before = progress();
    for (const file of files) {
      setProgress(say('slip.looking'));
      let texts: string[];
      try {
        texts = await eye.inPhoto(file);
      } catch {
        setProgress(before);
        return void setFault(say('slip.file', { name: file.name }));
      }
      setProgress(before);
      if (texts.length === 0) return void setFault(say('slip.none_in_photo'));
      for (const text of texts) await add(text);
      if (asking() || fault() !== undefined) return;
    }
  };
  const leave = () => {
    setTaken(undefined);
    setKey(undefined);
    reading.clear();
    for (const text of seen) left.add(text);
    seen.clear();
    setProgress(undefined);
  };
  const take = async (read: Taken) => {
    try {
      await takeOver(read.entries);
      sendSoon();
      replace('case', read.entries[0]!.case);
    } catch {
      setFault(say('disk.fault'));
    }
  };
  const keep = async (one: PublicKey) => {
    await learnKey(settings(), one);
    leave();
    setProgress(say('slip.key_kept'));
  };

  return (
    <main class="plain">
      <BackToCases title={key() ? say('slip.key_title') : say('slip.read_title')} />
      <Show when={fault()}>{(text) => <p class="noted" role="alert">{text()}</p>}</Show>
      {/* Stays while a question is asked, unseen: taking the camera up again costs seconds. */}
      <div class="slip-words" hidden={asking()}>
        <p role="status">{progress() ?? (camera.works() === false ? '' : say('slip.point'))}</p>
        <video ref={video} class="viewer" hidden={camera.works() !== true} playsinline muted aria-label={say('slip.read_title')} />
        <Show when={camera.works() === false}>
          <p>{say('slip.camera_none')}</p>
        </Show>
      </div>
      <Switch
        fallback={
          <footer class="foot">
            <input
              ref={photos}
              type="file"
              accept="image/*"
              multiple
              hidden
              onChange={() => {
                const chosen = [...(photos.files ?? [])];
                photos.value = ''; // the same photo may be chosen again
                void addPhotos(chosen);
              }}
            />
            <button type="button" class="key act" onClick={() => photos.click()}>
              {say('slip.photo')}
            </button>
          </footer>
        }
      >
        <Match when={taken()} keyed>
          {(read) => <SlipRead read={read} onTake={() => void take(read)} onLeave={leave} />}
        </Match>
        <Match when={key()} keyed>
          {(one) => (
            <>
              <p>{say('slip.key_ask')}</p>
              <code class="thumbprint">{inFours(one.kid)}</code>
              <footer class="foot foot-row">
                <button type="button" class="key" onClick={leave}>
                  {say('slip.leave')}
                </button>
                <button type="button" class="key act" onClick={() => void keep(one.key)}>
                  {say('slip.key_keep')}
                </button>
              </footer>
            </>
          )}
        </Match>
      </Switch>
    </main>
  );
}
