// One table from the native figures (Google Benchmark's JSON) and the WebAssembly ones (bench/wasm_case.mjs).
// Usage: node bench/table.mjs NATIVE.json WASM.json    Exit 1 when a figure is over its target.
import { readFileSync } from 'node:fs';

const [nativeFile, wasmFile] = process.argv.slice(2);
const native = JSON.parse(readFileSync(nativeFile, 'utf8'));
const wasm = JSON.parse(readFileSync(wasmFile, 'utf8'));

const perUnit = { ns: 1e-3, us: 1, ms: 1e3, s: 1e6 };
const medians = new Map();
for (const row of native.benchmarks) {
  if (row.aggregate_name !== 'median') continue;
  const name = row.run_name.replace('/manual_time', '');
  const time = row.run_name.endsWith('/manual_time') ? row.real_time : row.cpu_time;
  medians.set(name, time * perUnit[row.time_unit]);
}

const yardstick = 'parse_json_lines/2000';
const targets = { 'fold_and_advise/2000': [2000, 6000], 'take/2000': [50, null], 'take_late/2000': [50, null] };
const rows = [
  [yardstick, 'nlohmann-json alone parses the 2000 lines (yardstick)'],
  ['read_file/2000', 'the record reads and checks the 2000 lines'],
  ['fold/2000', '2000 parsed entries to a state'],
  ['advise/2000', 'picture and advice of that state'],
  ['advise_in_json/2000', 'the same, written as JSON'],
  ['fold_and_advise/2000', 'fold, picture and advice'],
  ['answer_request/2000', 'a request with the whole case: parse, fold, advise, write'],
  ['take/2000', 'one more entry, the newest'],
  ['take_late/2000', 'one more entry, half way back'],
  ['take_and_advise/2000', 'one more entry, picture and advice'],
];

const ms = (us) => (us === undefined ? '-' : us >= 1000 ? `${(us / 1000).toFixed(2)} ms` : `${us.toFixed(1)} us`);
const ratio = (a, b) => (a === undefined || b === undefined ? '-' : (a / b).toFixed(2));
let over = 0;

console.log('| work | native | WebAssembly | WebAssembly : native | native : yardstick |');
console.log('| --- | ---: | ---: | ---: | ---: |');
for (const [name, words] of rows) {
  const [here, there] = [medians.get(name), wasm[name]];
  console.log(`| ${words} | ${ms(here)} | ${ms(there)} | ${ratio(there, here)} | ${ratio(here, medians.get(yardstick))} |`);
  const [most, mostWasm] = targets[name] ?? [null, null];
  if (most !== null && here > most) over += 1;
  if (mostWasm !== null && there > mostWasm) over += 1;
}

console.log('\n| entries | native | a thousand entries | WebAssembly | a thousand entries |');
console.log('| ---: | ---: | ---: | ---: | ---: |');
for (const size of [250, 500, 1000, 2000, 4000, 8000]) {
  const [here, there] = [medians.get(`fold_and_advise/${size}`), wasm[`fold_and_advise/${size}`]];
  console.log(`| ${size} | ${ms(here)} | ${ms((here * 1000) / size)} | ${ms(there)} | ${ms((there * 1000) / size)} |`);
}
console.log(`\n${over === 0 ? 'Every target is met' : `${over} figures are over their targets`}: fold and advise 2000 entries ` +
  'within 2 ms natively and 6 ms in WebAssembly, one more entry within 50 us.');
process.exit(over === 0 ? 0 : 1);
