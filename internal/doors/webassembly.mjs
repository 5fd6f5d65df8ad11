// webassembly.mjs QUESTIONS MODULE: solves all poses of each limb at a time, in both
// precisions, and writes the answers.
import { readFileSync } from 'node:fs';
import { load } from '../../cmd/libpronate/js/pronate.js';
import { bits, each, words32, words64 } from './bits.mjs';

const [questions, module] = process.argv.slice(2);
const pronate = await load(readFileSync(module));
const answers = [];
for (const { solver, poses } of JSON.parse(readFileSync(questions, 'utf8'))) {
  const limb = pronate.limb(solver);
  const solved = (Numbers, words) => {
    const batch = limb.batch(poses.length, Numbers);
    batch.joints.set(poses.flatMap(({ joint }) => bits(joint)));
    batch.tips.set(poses.flatMap(({ tip }) => (tip ? bits(tip) : [0, 0, 0, 1])));
    batch.solve();
    const n = 4 * limb.segments;
    const out = poses.map((_, i) => each(batch.segments.slice(n * i, n * i + n), words));
    batch.free();
    return out;
  };
  const [double, single] = [solved(Float64Array, words64), solved(Float32Array, words32)];
  answers.push(poses.map((_, i) => ({ float64: double[i], float32: single[i] })));
  limb.free();
}
process.stdout.write(JSON.stringify(answers));
