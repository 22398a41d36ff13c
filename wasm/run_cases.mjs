// Runs text cases, and requests as they are, through the core's WebAssembly module and through the native command, and
// compares the answers byte for byte. Usage: node wasm/run_cases.mjs MODULE.wasm COMMAND FILE.case|FILE.ndjson...
// An NDJSON file holds one request a line.
// The module gets the three file functions that its C library names, as stubs that do nothing; anything more that it
// asked for would stop it from loading.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const badFile = 8; // WASI's number for "no such open file"
const imports = {
  wasi_snapshot_preview1: { fd_close: () => badFile, fd_seek: () => badFile, fd_write: () => badFile },
};

async function load(path) {
  const { instance } = await WebAssembly.instantiate(readFileSync(path), imports);
  const { memory, alloc, free, call, _initialize } = instance.exports;
  _initialize?.();
  return (request) => {
    const at = alloc(request.length);
    if (at === 0) throw new Error('the module has no memory left for the request');
    new Uint8Array(memory.buffer, at, request.length).set(request);
    const packed = BigInt.asUintN(64, call(at, request.length));
    free(at);
    const [answerAt, length] = [Number(packed >> 32n), Number(packed & 0xffffffffn)];
    if (answerAt === 0) throw new Error('the module has no memory left for the answer');
    const answer = Buffer.from(memory.buffer.slice(answerAt, answerAt + length));
    free(answerAt);
    return answer;
  };
}

function nativeAnswers(command, requests) {
  const run = spawnSync(command, ['call'], { input: requests.join('\n') + '\n', maxBuffer: 1 << 30 });
  if (run.status !== 0) throw new Error(`${command} call ended with ${run.status}: ${run.stderr}`);
  const answers = run.stdout.toString('latin1').split('\n');
  answers.pop();
  return answers.map((line) => Buffer.from(line, 'latin1'));
}

const [modulePath, command, ...files] = process.argv.slice(2);
if (files.length === 0) {
  console.error('usage: run_cases.mjs MODULE.wasm COMMAND FILE.case|FILE.ndjson...');
  process.exit(2);
}
const asked = files.flatMap((name) => {
  const text = readFileSync(name, 'utf8');
  if (!name.endsWith('.ndjson')) return [{ name, request: JSON.stringify({ do: 'try', name, text }) }];
  const lines = text.split('\n').filter(Boolean);
  return lines.map((request, i) => ({ name: `${name}:${i + 1}`, request }));
});
const requests = asked.map((one) => one.request);
const native = nativeAnswers(command, requests);

let call = await load(modulePath);
let [passed, failed] = [0, 0];
for (const [i, { name }] of asked.entries()) {
  let fault = '';
  try {
    const answer = call(Buffer.from(requests[i]));
    if (native[i] === undefined) fault = 'no native answer';
    else if (!answer.equals(native[i])) fault = `answers differ\n  native ${native[i]}\n  wasm   ${answer}`;
    else if (JSON.parse(answer).problems?.length > 0) fault = `refused: ${answer}`;
  } catch (error) {
    fault = `stopped: ${error.message}`;
    call = await load(modulePath); // a stopped module is not used again
  }
  if (fault === '') passed += 1;
  else {
    failed += 1;
    console.log(`${name}: ${fault}`);
  }
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
