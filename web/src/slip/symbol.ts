// Draws a symbol: black on white by day and by night, with the quiet zone that readers need.
import { encode } from 'uqr';

const quietZone = 4; // modules on every side (ISO/IEC 18004)

export interface Drawing {
  /** Modules from edge to edge, quiet zone included. */
  size: number;
  /** The dark modules as an SVG path, a module being 1. */
  path: string;
}

export function drawSymbol(text: string): Drawing {
  const { data, size } = encode(text, { ecc: 'M', border: quietZone });
  const runs: string[] = [];
  for (const [y, row] of data.entries())
    for (let x = 0; x < size; x += 1) {
      if (!row[x]) continue;
      const from = x;
      while (x < size && row[x]) x += 1;
      runs.push(`M${from} ${y}h${x - from}v1h${from - x}z`);
    }
  return { size, path: runs.join('') };
}
