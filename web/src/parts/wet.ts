// Water, blood or gel on the glass makes touches of its own. They fall where nothing is as often as on a key, and far from
// each other; a finger that misses falls beside the key it aimed at. Two such within a few seconds close the page to
// touches until a person has touched two distant keys in order.
import { createSignal } from 'solid-js';
import { calmAfter, samePlace } from './calm.ts';

export const within = 3000; // ms
export const apart = 96; // CSS px, wider than a key
const pressMoves = 12; // px; what moves further was a scroll

export interface Stray {
  at: number;
  x: number;
  y: number;
}

/** Do these touches on nothing, the newest last, speak of a wet screen? */
export function speaksOfWater(strays: readonly Stray[]): boolean {
  const last = strays.at(-1);
  return last !== undefined && strays.some((one) => last.at - one.at <= within && Math.hypot(one.x - last.x, one.y - last.y) >= apart);
}

const [wetSince, setWetSince] = createSignal<number | undefined>();
export { wetSince };
export const setDry = () => setWetSince(undefined);

export function watchWater(root: Document): void {
  let strays: Stray[] = [];
  const starts = new Map<number, PointerEvent>();
  let last: PointerEvent | undefined;
  let bounce = false; // a finger that bounces may land beside what its first touch has opened
  root.addEventListener(
    'pointerdown',
    (event) => {
      bounce =
        last !== undefined && event.timeStamp - last.timeStamp < calmAfter && Math.hypot(event.clientX - last.clientX, event.clientY - last.clientY) < samePlace;
      last = event;
      starts.set(event.pointerId, event);
    },
    true,
  );
  root.addEventListener('pointercancel', (event) => starts.delete(event.pointerId), true);
  root.addEventListener(
    'pointerup',
    (event) => {
      const start = starts.get(event.pointerId);
      starts.delete(event.pointerId);
      if (event.pointerType !== 'touch' || start === undefined || bounce || wetSince() !== undefined) return;
      if (Math.hypot(event.clientX - start.clientX, event.clientY - start.clientY) > pressMoves) return;
      if ((event.target as Element | null)?.closest('button, input, select, label, a, summary')) return;
      strays = [...strays.filter((one) => event.timeStamp - one.at <= within), { at: event.timeStamp, x: event.clientX, y: event.clientY }];
      if (!speaksOfWater(strays)) return;
      strays = [];
      setWetSince(Date.now());
    },
    true,
  );
}
