// Nothing moves under a finger: changes that came by themselves wait until 400 ms after the last touch, a new order of
// keys until no finger is down and 2 s have passed; a second touch of the same key within 250 ms is a bounce of the same
// press, and one of the same place within 400 ms was not meant for the key that the first has put there.

export const calmAfter = 400;
export const stillAfter = 2000;
export const bounceWithin = 250;
export const samePlace = 24; // px: what a tap opens may lie under the same finger

let lastTouch = -Infinity;
const down = new Set<number>(); // pointers that touch the screen
let lastKey: { key: Element; at: number; x: number; y: number } | undefined;

export function watchTouches(root: Document): void {
  root.addEventListener(
    'pointerdown',
    (event) => {
      lastTouch = event.timeStamp;
      down.add(event.pointerId);
    },
    true,
  );
  for (const end of ['pointerup', 'pointercancel'] as const)
    root.addEventListener(
      end,
      (event) => {
        lastTouch = event.timeStamp;
        down.delete(event.pointerId);
      },
      true,
    );
  // A finger that leaves while another page is in front is not told of.
  root.addEventListener('visibilitychange', () => down.clear());
  root.addEventListener(
    'click',
    (event) => {
      const key = (event.target as Element | null)?.closest('button, [role=button]');
      if (!key) return;
      const pointed = event.detail > 0;
      const near = pointed && lastKey && Math.hypot(event.clientX - lastKey.x, event.clientY - lastKey.y) < samePlace;
      const within = lastKey?.key === key ? bounceWithin : near ? calmAfter : 0;
      const bounced = lastKey !== undefined && event.timeStamp - lastKey.at < within;
      if (bounced) {
        event.stopImmediatePropagation();
        event.preventDefault();
      } else lastKey = { key, at: event.timeStamp, x: pointed ? event.clientX : NaN, y: event.clientY };
    },
    true,
  );
}

/** Runs at once when the page is calm, else as soon as it is. */
export function whenCalm(act: () => void): void {
  const left = lastTouch + calmAfter - new Event('now').timeStamp;
  if (left <= 0) act();
  else setTimeout(() => whenCalm(act), left);
}

/** Runs once no finger is down and none was for 2 s. */
export function whenStill(act: () => void): void {
  const left = down.size > 0 ? calmAfter : lastTouch + stillAfter - new Event('now').timeStamp;
  if (left <= 0) act();
  else setTimeout(() => whenStill(act), left);
}
