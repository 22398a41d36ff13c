// Nothing moves under a finger: changes that came by themselves wait until the finger is up and 400 ms have passed (a list
// is put in a new order after 2 s only), and a second touch of the same key within 250 ms is a bounce of the same press.

export const calmAfter = 400;
export const resortAfter = 2_000;
export const bounceWithin = 250;

let lastTouch = -Infinity;
let isDown = false;
let lastKey: { key: Element; at: number } | undefined;

export function watchTouches(root: Document): void {
  const touched = (event: Event) => {
    lastTouch = event.timeStamp;
    isDown = event.type === 'pointerdown';
  };
  for (const kind of ['pointerdown', 'pointerup', 'pointercancel']) root.addEventListener(kind, touched, true);
  root.addEventListener(
    'click',
    (event) => {
      const key = (event.target as Element | null)?.closest('button, [role=button]');
      if (!key) return;
      const bounced = lastKey?.key === key && event.timeStamp - lastKey.at < bounceWithin;
      if (bounced) {
        event.stopImmediatePropagation();
        event.preventDefault();
      } else lastKey = { key, at: event.timeStamp };
    },
    true,
  );
}

/** Runs at once when no finger is down and none was for `after` ms, else as soon as that is so. */
export function whenCalm(act: () => void, after = calmAfter): void {
  const left = isDown ? after : lastTouch + after - new Event('now').timeStamp;
  if (left <= 0) act();
  else setTimeout(() => whenCalm(act, after), left);
}
