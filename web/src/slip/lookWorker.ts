// Finds symbols in a picture, off the page's thread.
import jsQR from 'jsqr';

export interface Picture {
  id: number;
  pixels: Uint8ClampedArray<ArrayBuffer>;
  width: number;
  height: number;
  /** A photo is looked at longer than one of many frames of a camera. */
  patient: boolean;
}

const most = 4; // symbols in one picture: a printed slip has up to three

self.addEventListener('message', (event: MessageEvent<Picture>) => {
  const { id, pixels, width, height, patient } = event.data;
  const texts: string[] = [];
  try {
    while (texts.length < most) {
      const found = jsQR(pixels, width, height, { inversionAttempts: patient ? 'attemptBoth' : 'dontInvert' });
      if (found === null) break;
      texts.push(found.data);
      // The next look must find another one.
      const { topLeftCorner: a, topRightCorner: b, bottomLeftCorner: c, bottomRightCorner: d } = found.location;
      const [left, right] = [Math.min(a.x, c.x), Math.max(b.x, d.x)].map((x) => Math.max(0, Math.min(width, Math.round(x))));
      const [top, bottom] = [Math.min(a.y, b.y), Math.max(c.y, d.y)].map((y) => Math.max(0, Math.min(height, Math.round(y))));
      for (let y = top!; y < bottom!; y += 1) pixels.fill(255, 4 * (y * width + left!), 4 * (y * width + right!));
      if (right! <= left! || bottom! <= top!) break;
    }
  } catch {
    // A picture that the reader cannot get through has no symbol for us.
  }
  self.postMessage({ id, texts });
});
