// What nobody waits for is done after the frame that answers a tap.
export const afterPaint = (act: () => void): void => void requestAnimationFrame(() => setTimeout(act));
