import { expect, test } from 'vitest';
import { waitBefore } from './backoff.ts';
import { EventReader } from './sse.ts';

const stream = ': here\n\nevent: entries\nid: 7\ndata: {"entries":[{"note":"blé"}],\ndata: "cursor":7}\n\n: here\n\nid: 8\r\ndata: x\r\n\r\n';

test('events are the same wherever the bytes are cut', () => {
  const bytes = new TextEncoder().encode(stream);
  const whole = new EventReader().read(bytes);
  expect(whole).toEqual([
    { event: 'entries', id: '7', data: '{"entries":[{"note":"blé"}],\n"cursor":7}' },
    { event: 'message', id: '8', data: 'x' },
  ]);
  for (let cut = 0; cut <= bytes.length; cut += 1) {
    const reader = new EventReader();
    expect([...reader.read(bytes.slice(0, cut)), ...reader.read(bytes.slice(cut))], `cut at ${cut}`).toEqual(whole);
  }
});

test('a comment alone gives nothing', () => {
  expect(new EventReader().read(new TextEncoder().encode(': here\n\n'))).toEqual([]);
});

test('waiting doubles, has a ceiling and is spread', () => {
  expect(waitBefore(0, 0)).toBe(500);
  expect(waitBefore(1, 1)).toBe(2_000);
  expect(waitBefore(50, 1)).toBe(30_000);
  expect(waitBefore(50, 0)).toBe(15_000);
});
