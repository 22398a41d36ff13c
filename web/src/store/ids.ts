// UUID version 7 (RFC 9562): 48 bits of unix milliseconds, a counter within the millisecond, then random bits. Entries
// written in one go keep their order, which folding takes from the id when the times are equal.

const counterEnd = 0x1000; // 12 bits
let lastMs = 0;
let counter = 0;

export function newId(now: number = Date.now()): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  if (now !== lastMs) counter = ((bytes[6]! << 8) | bytes[7]!) % (counterEnd / 2);
  else counter = Math.min(counter + 1, counterEnd - 1);
  lastMs = now;
  for (let i = 0; i < 6; i += 1) bytes[i] = Math.floor(now / 2 ** (8 * (5 - i))) & 0xff;
  bytes[6] = (counter >> 8) | 0x70;
  bytes[7] = counter & 0xff;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** RFC 3339 in UTC, as the record writes it. */
export function timeText(ms: number): string {
  return new Date(ms).toISOString();
}
