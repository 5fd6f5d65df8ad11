// What every peer under node shares: reading the data, timing, and reporting
// as bench/peers.go expects. Called with a folder, the seconds of a round and a
// regular expression of the rows wanted.
import { readFileSync, writeFileSync } from 'node:fs';

const [folder, seconds, only] = process.argv.slice(2);
const wanted = new RegExp(only);
const rounds = 3;

export const segments = 4;
export const arrays = { float64: Float64Array, float32: Float32Array };
export const shares = Array.from({ length: segments }, (_, i) => i / (segments - 1) - 1);

export function version(library) {
  console.log(JSON.stringify({ version: `${library}, node ${process.version}` }));
}

// load reads the data of a precision.
export function load(precision) {
  const file = (name) => {
    const bytes = readFileSync(`${folder}/${name}.${precision}`);
    return new arrays[precision](bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
  };
  return { poses: file('poses'), targets: file('targets'), axis: file('axis') };
}

// row times a pass over all limbs and keeps what it wrote to out.
export function row(task, name, precision, out, pass) {
  if (!wanted.test(`${task} ${name} ${precision}`)) return;
  const limbs = task === 'limb' ? out.length / 4 / segments : out.length / 4;
  let least = Infinity;
  let passes = 1;
  for (let round = 0; round < rounds; ) {
    const begin = process.hrtime.bigint();
    for (let i = 0; i < passes; i++) pass();
    const took = Number(process.hrtime.bigint() - begin) / 1e9;
    if (took < seconds) {
      passes = took < seconds / 10 ? passes * 10 : Math.ceil((passes * 1.2 * seconds) / took);
      continue;
    }
    least = Math.min(least, took / passes);
    round++;
  }
  const answers = `${task} ${name}.${precision}`;
  writeFileSync(`${folder}/${answers}`, out);
  console.log(JSON.stringify({ task, name, precision, ns_per_limb: (least * 1e9) / limbs, answers }));
}
