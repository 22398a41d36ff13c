// Forecasts of demo cases at random moments through the core's WebAssembly module and through the native command,
// compared byte for byte. Usage: node wasm/run_forecasts.mjs MODULE.wasm COMMAND COUNT SEED FILE.ndjson...
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const badFile = 8; // WASI's number for "no such open file"
const imports = {
  wasi_snapshot_preview1: { fd_close: () => badFile, fd_seek: () => badFile, fd_write: () => badFile },
};

const [modulePath, command, count, seed, ...files] = process.argv.slice(2);
if (files.length === 0) {
  console.error('usage: run_forecasts.mjs MODULE.wasm COMMAND COUNT SEED FILE.ndjson...');
  process.exit(2);
}

let state = Number(seed) >>> 0;
const random = (n) => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return Math.floor((state / 2 ** 32) * n);
};
const changes = ['garment=on', 'garment=off', 'bleeding=halved', 'fluid=500', 'red_cells=1', 'repair=20'];
const cases = files.map((file) =>
  readFileSync(file, 'utf8').split('\n').filter((line) => line !== '').map((line) => JSON.parse(line)));
const requests = Array.from({ length: Number(count) }, () => {
  const entries = cases[random(cases.length)];
  // Early moments more often: a forecast costs more the longer the case is.
  const upTo = entries[Math.min(entries.length - 1, 4 + random(25))].at;
  return JSON.stringify({ do: 'foresee', entries, now: upTo, minutes: 30, members: 500, what_if: [changes[random(6)]] });
});

const { instance } = await WebAssembly.instantiate(readFileSync(modulePath), imports);
const { memory, alloc, free, call, _initialize } = instance.exports;
_initialize?.();
const answerOf = (text) => {
  const request = Buffer.from(text);
  const at = alloc(request.length);
  new Uint8Array(memory.buffer, at, request.length).set(request);
  const packed = BigInt.asUintN(64, call(at, request.length));
  free(at);
  const [answerAt, length] = [Number(packed >> 32n), Number(packed & 0xffffffffn)];
  const answer = Buffer.from(memory.buffer.slice(answerAt, answerAt + length)).toString();
  free(answerAt);
  return answer;
};

const run = spawnSync(command, ['call'], { input: requests.join('\n') + '\n', maxBuffer: 1 << 30 });
const native = run.stdout.toString().split('\n');
let [passed, failed, forecasts] = [0, 0, 0];
requests.forEach((request, i) => {
  const answer = answerOf(request);
  if (answer === native[i] && !answer.includes('"problems"')) passed += 1;
  else {
    failed += 1;
    console.log(`request ${i} differs or is refused: ${answer.slice(0, 200)}\n  native: ${(native[i] ?? '').slice(0, 200)}`);
  }
  if (answer.includes('"estimate":')) forecasts += 1;
});
console.log(`${passed} passed, ${failed} failed (${forecasts} held a forecast)`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
