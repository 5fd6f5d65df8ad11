// webassembly.mjs QUESTIONS MODULE: solves all poses of each limb at a time, in both
// precisions, and writes the answers.
import { readFileSync } from 'node:fs';
import { load } from '../../cmd/libpronate/js/pronate.js';
import { each, numbers } from './bits.mjs';

const [questions, module] = process.argv.slice(2);
const pronate = await load(readFileSync(module));
const answers = [];
for (const { solver, poses } of JSON.parse(readFileSync(questions, 'utf8'))) {
  const limb = pronate.limb(solver);
  const solved = (Numbers) => {
    const batch = limb.batch(poses.length, Numbers);
    batch.joints.set(poses.flatMap(({ joint }) => numbers(joint)));
    batch.tips.set(poses.flatMap(({ tip }) => (tip ? numbers(tip) : [0, 0, 0, 1])));
    batch.solve();
    const n = 4 * limb.segments;
    const out = poses.map((_, i) => each(batch.segments.slice(n * i, n * i + n)));
    batch.free();
    return out;
  };
  const [double, single] = [solved(Float64Array), solved(Float32Array)];
  answers.push(poses.map((_, i) => ({ float64: double[i], float32: single[i] })));
  limb.free();
}
process.stdout.write(JSON.stringify(answers));
