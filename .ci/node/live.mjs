// live.mjs DIR: loads every X.glb in DIR that has an X.live.json beside it with
// three's GLTFLoader, turns the nodes that each pose lists, has an implementation of
// VRMC_node_constraint work its constraints out, and compares the segments' own
// rotations with those listed, which are the solver's. Components may differ by 1e-6.
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { VRMNodeConstraintLoaderPlugin } from '@pixiv/three-vrm-node-constraint';
import { load } from './load.mjs';

const TOLERANCE = 1e-6;

// The largest difference of a component; q and -q are the same rotation.
function difference(a, b) {
  const by = (sign) => Math.max(...a.map((x, i) => Math.abs(x - sign * b[i])));
  const most = Math.min(by(1), by(-1));
  return Number.isNaN(most) ? Infinity : most;
}

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node live.mjs DIR');
  process.exit(2);
}
let complaints = 0;
let files = 0;
let compared = 0;
let worst = 0;
for (const name of (await readdir(folder)).sort()) {
  const stem = name.match(/^(.*)\.live\.json$/)?.[1];
  if (stem === undefined) continue;
  try {
    const gltf = await load(join(folder, `${stem}.glb`), (parser) => new VRMNodeConstraintLoaderPlugin(parser));
    const nodes = new Map();
    for (const [index, { name: own }] of gltf.parser.json.nodes.entries()) {
      nodes.set(own, await gltf.parser.getDependency('node', index));
    }
    files++;
    for (const { rotations, segments } of JSON.parse(await readFile(join(folder, name), 'utf8'))) {
      for (const [own, q] of Object.entries(rotations)) nodes.get(own).quaternion.fromArray(q);
      gltf.scene.updateMatrixWorld(true);
      gltf.userData.vrmNodeConstraintManager.update();
      for (const [own, q] of Object.entries(segments)) {
        compared++;
        const off = difference(nodes.get(own).quaternion.toArray(), q);
        worst = Math.max(worst, off);
        if (!(off <= TOLERANCE)) {
          complaints++;
          console.log(`${stem}.glb: ${own}: off by ${off.toExponential(2)}`);
        }
      }
    }
  } catch (error) {
    complaints++;
    console.log(`${stem}.glb: ${error.message}`);
  }
}
console.log(`constraints: ${files} files, ${compared} segments, worst difference ${worst.toExponential(2)}, ${complaints} complaints`);
if (compared === 0) console.log(`${folder} holds no live poses`);
process.exit(complaints > 0 || compared === 0 ? 1 : 0);
