// What the tests share. wasm_test.go calls each with a folder, which has the module
// and, in cases.json and beside it, inputs with the answers that Go gives.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { load } from '../pronate.js';

const folder = process.argv[2];
export const bytes = readFileSync(join(folder, 'pronate.wasm'));
const cases = JSON.parse(readFileSync(join(folder, 'cases.json'), 'utf8'));
export const limbs = cases.limbs;
export const aims = cases.aims;
export const precisions = { f32: Float32Array, f64: Float64Array };

export const start = () => load(bytes);

// read gives the numbers of a file.
export function read(name, precision) {
  const data = readFileSync(join(folder, `${name}.${precision}`));
  return new precisions[precision](data.buffer.slice(data.byteOffset, data.byteOffset + data.length));
}

// isSame tells whether numbers have the same bits.
export function isSame(a, b) {
  return Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength));
}
