// The page's skinning against three's: the same character, the same joints turned, every
// vertex at the same place. Run in node.
import assert from 'node:assert/strict';
import { runInThisContext } from 'node:vm';
import { Quaternion, Vector3 } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { readCharacter } from '../src/character.js';
import { LimbSkin } from '../src/limb-skin.js';
import { Motions } from '../src/motions.js';

// Places come from float32 numbers in the file on both sides, and three's are computed
// with float32 weights and inverse bind matrices as well: some roundings of 6e-8, of
// places within two metres.
const rounding = 2e-6;

export async function run({ url, test }) {
  const served = async (name) => new Uint8Array(await (await fetch(new URL(name, url))).arrayBuffer());
  const split = await splitter(served);
  const wren = await served('wren.glb');
  await test('vertices are where three puts them', () => agrees('wren.glb', wren, split));
}

// splitter starts splitter.wasm and splits one limb of a character.
export async function splitter(served) {
  runInThisContext(new TextDecoder().decode(await served('wasm_exec.js')));
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiate(await served('splitter.wasm'), go.importObject);
  go.run(instance);
  return (name, bytes) => {
    const { limbs } = JSON.parse(globalThis.pronateDetect(name, bytes));
    return limbs.map((limb) => {
      const { glb, json } = globalThis.pronateSplit(name, bytes, JSON.stringify({ limbs: [{ ...limb, segments: 4 }] }));
      return { glb, info: JSON.parse(json).limbs[0] };
    });
  };
}

export async function agrees(name, bytes, split) {
  for (const { glb, info } of split(name, bytes)) {
    const joint = unit([0.1, -0.4, 0.2, 0.8]), tip = unit([0.2, 0.1, -0.3, 0.9]);
    const segments = info.segments.map((_, i) => unit([0.1 * i, 0.2, -0.1 * i, 1]));
    const character = await readCharacter(name, glb);
    const hasTip = info.solver.twist === 'tip';
    const motions = new Motions(character, { joint: info.joint, tip: hasTip ? info.tip : -1, segments: info.segments });
    const skin = new LimbSkin(character, motions);
    motions.pose(joint, tip, segments.flat());
    skin.linear();
    const expected = await byThree(glb, info, hasTip, joint, tip, segments);
    let worst = 0;
    expected.forEach((x, i) => (worst = Math.max(worst, Math.abs(x - skin.posed[i]))));
    assert.equal(expected.length, skin.posed.length);
    assert.ok(worst < rounding * Math.max(1, ...expected.map(Math.abs)), `${name}, ${info.name}: apart by ${worst}`);
    const moved = expected.filter((x, i) => Math.abs(x - character.rest[i]) > 1e-3);
    assert.ok(moved.length > 100, `${info.name}: ${moved.length} coordinates moved`);
  }
}

async function byThree(glb, info, hasTip, joint, tip, segments) {
  const { scene, parser } = await new GLTFLoader().parseAsync(glb.slice().buffer, '');
  const nodes = new Map();
  scene.traverse((object) => {
    const of = parser.associations.get(object);
    if (of?.nodes !== undefined && !nodes.has(of.nodes)) nodes.set(of.nodes, object);
  });
  const q = (v) => new Quaternion().fromArray(v);
  scene.updateMatrixWorld(true);
  if (hasTip) {
    const at = nodes.get(info.tip);
    // tip's turn is in the joint's frame
    const between = nodes.get(info.joint).getWorldQuaternion(new Quaternion()).invert().multiply(at.parent.getWorldQuaternion(new Quaternion()));
    at.quaternion.premultiply(between.clone().invert().multiply(q(tip)).multiply(between));
  }
  nodes.get(info.joint).quaternion.multiply(q(joint));
  info.segments.forEach((node, i) => nodes.get(node).quaternion.premultiply(q(segments[i])));
  scene.updateMatrixWorld(true);
  const out = [], v = new Vector3();
  scene.traverse((object) => {
    if (!object.isMesh) return;
    for (let i = 0; i < object.geometry.attributes.position.count; i++) {
      object.getVertexPosition(i, v).applyMatrix4(object.matrixWorld);
      out.push(v.x, v.y, v.z);
    }
  });
  return out;
}

function unit(v) {
  const length = Math.hypot(...v);
  return v.map((x) => x / length);
}
