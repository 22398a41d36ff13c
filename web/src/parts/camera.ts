// Frames of the phone's camera, one after the other, for as long as the screen that asks is open.
import { createSignal, onCleanup } from 'solid-js';

const pause = 120; // ms between looks: the phone has other work too

/** Shows the camera in `video` and hands each frame to `look`. The signal says whether there is a camera to be used. */
export function useCamera(video: () => HTMLVideoElement, look: (video: HTMLVideoElement) => Promise<void>) {
  const [works, setWorks] = createSignal<boolean | undefined>();
  let stream: MediaStream | undefined;
  let over = false;
  onCleanup(() => {
    over = true;
    for (const track of stream?.getTracks() ?? []) track.stop();
  });
  const start = async () => {
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 1280 } } });
      if (over) {
        for (const track of stream.getTracks()) track.stop();
        return;
      }
      setWorks(true);
      video().srcObject = stream;
      await video().play();
    } catch {
      setWorks(false); // none, not allowed, or a page that did not come by https
      return;
    }
    while (!over) {
      await look(video());
      await new Promise((done) => setTimeout(done, pause));
    }
  };
  return { works, start };
}
