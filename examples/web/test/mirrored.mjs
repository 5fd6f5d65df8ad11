// Joints whose own scale mirrors or is uneven: segments turn otherwise there than the
// solver says. Nodes that do not stand in the bind pose: the page turns joints from rest.
// What the page makes of them against `pronate solve --local`, drawn by three; and places
// and turns in the world. Run in node.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Matrix4, Vector3 } from 'three';
import { load } from '../../../cmd/libpronate/js/pronate.js';
import { boneOf } from '../src/bone.js';
import { readCharacter } from '../src/character.js';
import { Leaves } from '../src/leaves.js';
import { LimbSkin } from '../src/limb-skin.js';
import { Motions } from '../src/motions.js';
import { compose, rotate, twistAngle } from '../src/rotation.js';
import { swingOf } from '../src/swing.js';
import { edited, unit } from './glb.mjs';
import { begun, byThree, sameVertices } from './skin.mjs';

// Of turns and places: float32 numbers in the file, 6e-8 of a few radians and metres,
// some of them one after another.
const rounding = 2e-6;

export async function run({ url, folder, binary, test }) {
  const [mirrored, posed] = await Promise.all(['mirrored', 'posed'].map((name) => readFile(join(folder, `${name}.glb`))));
  const uneven = edited(mirrored, (json) => {
    for (const node of json.nodes) if (/^thigh_/.test(node.name)) node.scale = (node.scale ?? [1, 1, 1]).map((x, k) => x * [1.1, 0.8, 1.3][k]);
  });
  const { served, split } = await begun(url);
  const pronate = await load(Buffer.from(await served('pronate.wasm')));
  for (const [name, bytes] of Object.entries({ mirrored, uneven, posed })) {
    await writeFile(join(folder, `${name}.glb`), bytes);
    const limbs = [];
    for (const one of split(`${name}.glb`, bytes)) limbs.push(await limbOf(pronate, name, one));
    const turned = limbs.filter(({ leaves }) => leaves.turned);
    if (name !== 'posed') await test(`${name}: some segments turn otherwise than solved`, () => assert.ok(turned.length >= 2, `${turned.length} limbs`));
    if (binary) await test(`${name}: vertices are where pronate solve and three put them`, () => agrees(limbs, binary, join(folder, `${name}.glb`)));
    if (name === 'uneven') continue; // turns are none in the world of a joint that is scaled unevenly
    await test(`${name}: limbs turn in the world as others do`, () => limbs.forEach(turnsInWorld));
    await test(`${name}: a bone ends where its next joint is`, () => limbs.forEach(endsThere));
  }
}

async function limbOf(pronate, name, { glb, limb, info }) {
  const character = await readCharacter(name, glb);
  const motions = new Motions(character, { joint: info.joint, tip: info.tip, segments: info.segments });
  const { outside, world } = character.nodes[info.joint];
  const bone = boneOf(info.solver.axis, outside, limb.side);
  const root = world.elements.slice(12, 15);
  const batch = pronate.limb(info.solver).batch(1, Float64Array);
  const leaves = new Leaves(info);
  // What picture.js does in a frame, but for the skin.
  const turn = (joint, tip) => {
    batch.joints.set(joint);
    batch.tips.set(tip);
    batch.solve(1);
    motions.pose(joint, tip, leaves.turn(batch.segments));
  };
  return { name: `${name}, ${info.name}`, glb, limb, info, character, motions, bone, root, rest: outside.rotation, leaves, turn };
}

async function agrees(limbs, binary, path) {
  for (const { name, glb, limb, info, character, motions, turn } of limbs) {
    const joint = unit([0.1, -0.4, 0.2, 0.8]), tip = unit([0.2, 0.1, -0.3, 0.9]);
    const line = JSON.stringify({ rotation: joint, ...(info.tip >= 0 ? { tip } : {}) });
    const answer = execFileSync(binary, ['solve', '--local', '--character', path, '--limb', limb.joint], { input: `${line}\n`, encoding: 'utf8' });
    const { segments } = JSON.parse(answer);
    turn(joint, tip);
    const skin = new LimbSkin(character, motions);
    skin.linear();
    sameVertices(skin, await byThree(glb, info, joint, tip, segments), name);
  }
}

// turnsInWorld: of a twist of 60 degrees about the bone each segment takes its share,
// about the bone in the world.
function turnsInWorld({ name, info, motions, bone, turn }) {
  const twist = compose([0, 0, 0, 1], { first: 0, second: 0, twist: 60 }, bone);
  const still = [0, 0, 0, 1];
  if (info.tip >= 0) turn(still, twist);
  else turn(twist, still);
  info.segments.forEach((_, i) => {
    const at = 4 * (motions.firstSegment + i);
    const share = (60 * i) / (info.segments.length - 1);
    const angle = (twistAngle(motions.rotations.subarray(at, at + 4), bone.along) * 180) / Math.PI;
    assert.ok(Math.abs(angle - share) < rounding * 60, `${name}, segment ${i + 1}: turned by ${angle} degrees, expected ${share}`);
  });
}

// endsThere: the end is the next joint's place at rest, and stays with it in a bend.
function endsThere({ name, limb, info, character, motions, bone, root, rest, turn }) {
  const end = root.map((x, k) => x + info.end_length_m * bone.along[k]);
  const next = character.nodes.find((node) => node.name === limb.end).world.elements.slice(12, 15);
  apart(end, next, `${name}: the end`);
  const joint = compose([0, 0, 0, 1], { first: 40, second: 25, twist: 50 }, bone);
  turn(joint, [0, 0, 0, 1]);
  const m = motions.matrices.subarray(12, 24); // the joint's motion
  const moved = new Vector3(...next).applyMatrix4(new Matrix4().set(...m, 0, 0, 0, 1)).toArray();
  const arm = rotate([0, 0, 0], swingOf(joint, bone.axis, rest, info.tip >= 0), end.map((x, k) => x - root[k]));
  apart(root.map((x, k) => x + arm[k]), moved, `${name}: the end, bent`);
}

function apart(a, b, about) {
  const by = Math.hypot(...a.map((x, k) => x - b[k]));
  assert.ok(by < rounding, `${about} is ${by} m from the joint`);
}
