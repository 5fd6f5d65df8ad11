// The page's skinning against three's: the same character, the same joints turned, every
// vertex at the same place. Run in node.
import assert from 'node:assert/strict';
import { runInThisContext } from 'node:vm';
import { Matrix4, Quaternion, Vector3 } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { readCharacter } from '../src/character.js';
import { Figure } from '../src/figure.js';
import { LimbSkin } from '../src/limb-skin.js';
import { Motions } from '../src/motions.js';
import { unit } from './glb.mjs';

// Places come from float32 numbers in the file on both sides, and three's are computed
// with float32 weights and inverse bind matrices as well: some roundings of 6e-8, of
// places within two metres.
const rounding = 2e-6;

export async function run({ url, test }) {
  const { served, split } = await begun(url);
  const wren = await served('wren.glb');
  await test('vertices are where three puts them', () => agrees('wren.glb', wren, split));
  await test('a figure keeps no lists of what holds its vertices', () => keepsLittle('wren.glb', wren, split));
}

// begun starts splitter.wasm.
export async function begun(url) {
  const served = async (name) => new Uint8Array(await (await fetch(new URL(name, url))).arrayBuffer());
  runInThisContext(new TextDecoder().decode(await served('wasm_exec.js')));
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiate(await served('splitter.wasm'), go.importObject);
  go.run(instance);
  // One character for each limb, with that one split, as detected or otherwise.
  const split = (name, bytes, otherwise = {}) => {
    const { limbs } = JSON.parse(globalThis.pronateDetect(name, bytes).json);
    return limbs.map((limb) => {
      const { glb, json } = globalThis.pronateSplit(name, bytes, JSON.stringify({ limbs: [{ ...limb, ...otherwise }] }));
      return { glb, limb, info: JSON.parse(json).limbs[0] };
    });
  };
  return { served, split };
}

async function agrees(name, bytes, split) {
  for (const { glb, info } of split(name, bytes, { segments: 4 })) {
    const joint = unit([0.1, -0.4, 0.2, 0.8]), tip = unit([0.2, 0.1, -0.3, 0.9]);
    const segments = info.segments.map((_, i) => unit([0.1 * i, 0.2, -0.1 * i, 1]));
    const character = await readCharacter(name, glb);
    const motions = new Motions(character, { joint: info.joint, tip: info.tip, segments: info.segments });
    const skin = new LimbSkin(character, motions);
    motions.pose(joint, tip, segments.flat());
    skin.linear();
    sameVertices(skin, await byThree(glb, info, joint, tip, segments), `${name}, ${info.name}`);
  }
}

// keepsLittle: the page keeps a dozen figures, and such lists would be most of them.
async function keepsLittle(name, bytes, split) {
  const [{ glb, info }] = split(name, bytes, { segments: 4 });
  const character = await readCharacter(name, glb);
  const { held } = character, vertices = character.rest.length / 3;
  const size = Object.values(held).reduce((sum, array) => sum + array.byteLength, 0);
  assert.ok(size / vertices <= 4 + 36 * 4, `${size} bytes of ${vertices} vertices, expected a start and at most four joints and terms of each`);
  const figure = new Figure(character, { joint: info.joint, tip: info.tip, segments: info.segments }, { root: [0, 0.9, 0], end: [0, 0.5, 0] });
  for (const [key, value] of [...Object.entries(figure), ...Object.entries(figure.character), ...Object.entries(figure.skin)]) assert.notEqual(value, held, key);
}

export function sameVertices(skin, expected, about) {
  let worst = 0;
  expected.forEach((x, i) => (worst = Math.max(worst, Math.abs(x - skin.posed[i]))));
  assert.equal(expected.length, skin.posed.length);
  assert.ok(worst < rounding * Math.max(1, ...expected.map(Math.abs)), `${about}: apart by ${worst}`);
  const moved = expected.filter((x, i) => Math.abs(x - skin.rest[i]) > 1e-3);
  assert.ok(moved.length > 100, `${about}: ${moved.length} coordinates moved`);
}

// byThree turns the joints of a character in three: the joint from rest, the tip in the
// joint's frame, and the segments.
export async function byThree(glb, info, joint, tip, segments) {
  const { scene, parser } = await new GLTFLoader().parseAsync(glb.slice().buffer, '');
  const nodes = new Map();
  scene.traverse((object) => {
    const of = parser.associations.get(object);
    if (of?.nodes !== undefined && !nodes.has(of.nodes)) nodes.set(of.nodes, object);
  });
  const q = (v) => new Quaternion().fromArray(v);
  scene.updateMatrixWorld(true);
  if (info.tip >= 0) {
    const at = nodes.get(info.tip), { matrixWorld: from, scale } = nodes.get(info.joint);
    // The tip's turn is given in the joint's frame, without its scale, which may mirror.
    const between = at.parent.matrixWorld.clone().invert().multiply(from).scale(new Vector3(1, 1, 1).divide(scale));
    const turn = between.clone().multiply(new Matrix4().makeRotationFromQuaternion(q(tip))).multiply(between.clone().invert());
    at.quaternion.premultiply(new Quaternion().setFromRotationMatrix(turn));
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
