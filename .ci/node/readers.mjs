// readers.mjs DIR: loads every X.glb in DIR that has an X.positions.json beside
// it with three's GLTFLoader, plays its clips with three's AnimationMixer, skins
// it, and compares each vertex in the world with the one listed. They may differ
// by 1e-5 of the character's height. Files with more than four influences a
// vertex are passed over: three reads only four.
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { AnimationMixer, LoopOnce, Quaternion, Vector3 } from 'three';
import { load } from './load.mjs';

const TOLERANCE = 1e-5;

// Makes the rotations of every key unit quaternions: integers hold one only
// roughly, and the mixer would stretch the character by the difference. A spline
// has tangents among its values and is left to its own interpolation.
function straightened(gltf) {
  const q = new Quaternion();
  for (const { tracks } of gltf.animations) {
    for (const { name, times, values } of tracks) {
      if (!name.endsWith('.quaternion') || values.length !== 4 * times.length) continue;
      for (let i = 0; i < values.length; i += 4) q.fromArray(values, i).normalize().toArray(values, i);
    }
  }
  return gltf;
}

// Lists the skinned primitives in the order of the nodes and then of the
// primitives in the file.
async function skinnedMeshes({ parser }) {
  const meshes = [];
  for (const [index, node] of parser.json.nodes.entries()) {
    if (node.mesh === undefined || node.skin === undefined) continue;
    const object = await parser.getDependency('node', index);
    const own = object.isSkinnedMesh ? [object] : object.children.filter((child) => child.isSkinnedMesh);
    if (own.length !== parser.json.meshes[node.mesh].primitives.length) {
      throw new Error(`node ${index}: ${own.length} skinned meshes`);
    }
    meshes.push(...own);
  }
  return meshes;
}

// Puts the scene into a pose and returns the largest distance of a vertex from
// where it should be.
function worstOf(gltf, meshes, { clip, time, vertices }) {
  const mixer = new AnimationMixer(gltf.scene);
  if (clip !== '') {
    const action = mixer.clipAction(gltf.animations.find(({ name }) => name === clip));
    action.setLoop(LoopOnce);
    action.clampWhenFinished = true;
    action.play();
    action.time = time;
    mixer.update(0);
  }
  // At a spline's own keys the mixer takes its value as it is stored.
  gltf.scene.traverse((object) => object.quaternion.normalize());
  gltf.scene.updateMatrixWorld(true);
  const found = new Vector3();
  const wanted = new Vector3();
  let next = 0;
  let worst = 0;
  for (const mesh of meshes) {
    for (let i = 0; i < mesh.geometry.attributes.position.count; i++, next += 3) {
      mesh.getVertexPosition(i, found).applyMatrix4(mesh.matrixWorld);
      const distance = found.distanceTo(wanted.fromArray(vertices, next));
      worst = distance <= worst ? worst : distance; // keeps a NaN
    }
  }
  mixer.stopAllAction(); // puts the rest pose back
  if (next !== vertices.length) throw new Error(`${next / 3} vertices, expected ${vertices.length / 3}`);
  return worst;
}

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node readers.mjs DIR');
  process.exit(2);
}
let complaints = 0;
let files = 0;
let crowded = 0;
let poses = 0;
let worst = 0;
for (const name of (await readdir(folder)).sort()) {
  const stem = name.match(/^(.*)\.positions\.json$/)?.[1];
  if (stem === undefined) continue;
  try {
    const gltf = straightened(await load(join(folder, `${stem}.glb`)));
    if (gltf.parser.json.meshes.some(({ primitives }) => primitives.some(({ attributes }) => 'JOINTS_1' in attributes))) {
      crowded++;
      continue;
    }
    const meshes = await skinnedMeshes(gltf);
    files++;
    const wanted = JSON.parse(await readFile(join(folder, name), 'utf8'));
    for (const pose of wanted.poses) {
      poses++;
      const difference = worstOf(gltf, meshes, pose) / wanted.height;
      worst = difference <= worst ? worst : difference;
      if (!(difference <= TOLERANCE)) {
        complaints++;
        console.log(`${stem}.glb: clip "${pose.clip}" at ${pose.time} s: off by ${difference.toExponential(2)} of the height`);
      }
    }
  } catch (error) {
    complaints++;
    console.log(`${stem}.glb: ${error.message}`);
  }
}
console.log(
  `three: ${files} files (and ${crowded} with more than four influences passed over), ${poses} poses, ` +
    `worst difference ${worst.toExponential(2)} of the height, ${complaints} complaints`,
);
if (files === 0) console.log(`${folder} holds no positions`);
process.exit(complaints > 0 || files === 0 ? 1 : 0);
