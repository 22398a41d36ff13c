// Keeps the screen on while something must be read from it, where the browser can.
import { onCleanup } from 'solid-js';

export function keepAwake(): void {
  let lock: WakeLockSentinel | undefined;
  let over = false;
  const hold = async () => {
    try {
      const fresh = await navigator.wakeLock?.request('screen');
      if (over) void fresh?.release();
      else lock = fresh;
    } catch {
      // A phone short of battery may refuse; the code can be read all the same.
    }
  };
  const again = () => document.visibilityState === 'visible' && void hold(); // the browser lets go when the page is hidden
  document.addEventListener('visibilitychange', again);
  void hold();
  onCleanup(() => {
    over = true;
    document.removeEventListener('visibilitychange', again);
    void lock?.release();
  });
}
