// From a camera's frame or a photo to the texts of the symbols in it.
import type { Picture } from './lookWorker.ts';

const photoSides = [1600, 900]; // px of the longer side; a photo in which nothing is seen is tried smaller
const frameSide = 900;

export class Eye {
  private readonly worker = new Worker(new URL('./lookWorker.ts', import.meta.url), { type: 'module' });
  private readonly canvas = document.createElement('canvas');
  private readonly waiting = new Map<number, (texts: string[]) => void>();
  private asked = 0;

  constructor() {
    this.worker.addEventListener('message', (event: MessageEvent<{ id: number; texts: string[] }>) => {
      this.waiting.get(event.data.id)?.(event.data.texts);
      this.waiting.delete(event.data.id);
    });
  }

  close(): void {
    this.worker.terminate();
  }

  inFrame(video: HTMLVideoElement): Promise<string[]> {
    return this.look(video, video.videoWidth, video.videoHeight, frameSide, false);
  }

  /** Throws what the browser says of a file that is no picture. */
  async inPhoto(file: Blob): Promise<string[]> {
    const picture = await createImageBitmap(file);
    try {
      for (const side of photoSides) {
        const texts = await this.look(picture, picture.width, picture.height, side, true);
        if (texts.length > 0) return texts;
      }
      return [];
    } finally {
      picture.close();
    }
  }

  private look(source: CanvasImageSource, fullWidth: number, fullHeight: number, side: number, patient: boolean): Promise<string[]> {
    const scale = Math.min(1, side / Math.max(fullWidth, fullHeight));
    const [width, height] = [Math.round(fullWidth * scale), Math.round(fullHeight * scale)];
    if (width === 0 || height === 0) return Promise.resolve([]);
    Object.assign(this.canvas, { width, height });
    const pen = this.canvas.getContext('2d', { willReadFrequently: true })!;
    pen.drawImage(source, 0, 0, width, height);
    const pixels = pen.getImageData(0, 0, width, height).data as Uint8ClampedArray<ArrayBuffer>;
    this.asked += 1;
    const picture: Picture = { id: this.asked, pixels, width, height, patient };
    return new Promise((done) => {
      this.waiting.set(picture.id, done);
      this.worker.postMessage(picture, [pixels.buffer]);
    });
  }
}
