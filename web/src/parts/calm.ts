// Nothing moves under a finger: changes that came by themselves wait until 400 ms after the last touch, and a second
// touch of the same key within 250 ms is a bounce of the same press.

export const calmAfter = 400;
export const bounceWithin = 250;

let lastTouch = -Infinity;
let lastKey: { key: Element; at: number } | undefined;

export function watchTouches(root: Document): void {
  const touched = (event: Event) => {
    lastTouch = event.timeStamp;
  };
  root.addEventListener('pointerdown', touched, true);
  root.addEventListener('pointerup', touched, true);
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

/** Runs at once when the page is calm, else as soon as it is. */
export function whenCalm(act: () => void): void {
  const left = lastTouch + calmAfter - new Event('now').timeStamp;
  if (left <= 0) act();
  else setTimeout(() => whenCalm(act), left);
}
