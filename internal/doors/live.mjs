// live.mjs: reads from standard input which files to load with three's GLTFLoader, how
// to turn their joints, and which segments to tell of; writes those segments' own
// rotations once an implementation of VRMC_node_constraint has worked them out. It
// stands beside .ci/node's load.mjs when it runs.
import { readFileSync } from 'node:fs';
import { VRMNodeConstraintLoaderPlugin } from '@pixiv/three-vrm-node-constraint';
import { load } from './load.mjs';

const answers = [];
for (const { file, segments, poses } of JSON.parse(readFileSync(0, 'utf8'))) {
  const gltf = await load(file, (parser) => new VRMNodeConstraintLoaderPlugin(parser));
  const nodes = new Map();
  for (const [index, { name }] of gltf.parser.json.nodes.entries()) {
    nodes.set(name, await gltf.parser.getDependency('node', index));
  }
  answers.push(poses.map((rotations) => {
    for (const [name, q] of Object.entries(rotations)) nodes.get(name).quaternion.fromArray(q);
    gltf.scene.updateMatrixWorld(true);
    gltf.userData.vrmNodeConstraintManager.update();
    return Object.fromEntries(segments.map((name) => [name, nodes.get(name).quaternion.toArray()]));
  }));
}
process.stdout.write(JSON.stringify(answers));
