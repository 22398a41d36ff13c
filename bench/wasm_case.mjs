// Times the work of bench/wasm_bench.cpp in Node. Usage: node bench/wasm_case.mjs MODULE.wasm [REPETITIONS]
// Prints JSON: {"work/entries": median microseconds}. A repetition lasts 100 ms or more; one comes before, untimed.
import { readFileSync } from 'node:fs';

const badFile = 8; // WASI's number for "no such open file"
const imports = {
  wasi_snapshot_preview1: { fd_close: () => badFile, fd_seek: () => badFile, fd_write: () => badFile },
};
const [path, repetitions = '9'] = process.argv.slice(2);
const { instance } = await WebAssembly.instantiate(readFileSync(path), imports);
const { exports: work } = instance;
work._initialize?.();

const takesInABatch = 100;
const [usual, sizes] = [2000, [250, 500, 1000, 4000, 8000]];

function microseconds(name) {
  const batch = name.startsWith('take');
  let [total, calls] = [0, 0];
  while (total < 100_000) {
    if (batch) work.begin_taking();
    const start = process.cpuUsage();
    for (let i = 0; i < (batch ? takesInABatch : 1); i += 1) work[name]();
    const used = process.cpuUsage(start); // processor time, so that other programs on the machine do not count
    total += used.user + used.system;
    calls += batch ? takesInABatch : 1;
  }
  return total / calls;
}

function median(name) {
  microseconds(name);
  const all = Array.from({ length: Number(repetitions) }, () => microseconds(name)).sort((a, b) => a - b);
  return all[Math.floor(all.length / 2)];
}

const figures = {};
work.prepare(usual);
for (const name of ['parse_json_lines', 'read_file', 'fold', 'advise', 'advise_in_json', 'answer_request',
  'fold_and_advise', 'take', 'take_late', 'take_and_advise']) {
  figures[`${name}/${usual}`] = median(name);
}
for (const size of sizes) {
  work.prepare(size);
  figures[`fold_and_advise/${size}`] = median('fold_and_advise');
}
console.log(JSON.stringify(figures));
