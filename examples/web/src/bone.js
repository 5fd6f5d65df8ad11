// A limb's bone: where it points at rest, and the two directions it bends to, named
// by what they do to the character. glTF characters stand along +Y and face +Z, so
// their left is +X.
import { conjugate, cross, dot, rotate, unit } from './rotation.js';

// boneOf takes the bone's axis in the joint's frame, that frame at rest (see node-frame.js)
// and the limb's side.
export function boneOf(axis, { rotation: jointRest, handed }, side) {
  const along = rotate([0, 0, 0], jointRest, unit(Array.from(axis)).map((x) => handed * x));
  const towards = Math.abs(along[2]) < 0.8 ? [0, 0, 1] : [0, 1, 0];
  const first = unit(towards.map((x, i) => x - dot(towards, along) * along[i]));
  let second = cross(along, first);
  if (leads(second, side) < 0) second = second.map((x) => -x);
  const back = conjugate([0, 0, 0, 1], jointRest);
  const inJoint = (v) => rotate([0, 0, 0], back, v);
  return {
    along, // in the world at rest
    ahead: first,
    handed, // -1 where turns about the axis are the other way round for the solver
    axis: inJoint(along), // in the joint's frame, or in a mirrored one's rotation
    // What turns the bone to each of the two, there.
    about: [first, second].map((to) => inJoint(cross(along, to))),
    right: second[0] < 0 ? -1 : 1, // which way of the second is +X
    names: [first, second].map((to) => nameOf(to, side)),
  };
}

// leads is positive for a direction that the plus end of a slider should be at.
function leads(v, side) {
  const k = heaviest(v);
  return k === 0 && side === 'right' ? -v[0] : v[k];
}

const heaviest = (v) => v.reduce((most, x, k) => (Math.abs(x) > Math.abs(v[most]) + 1e-9 ? k : most), 0);

function nameOf(v, side) {
  const k = heaviest(v);
  const names = [side ? ['out', 'in'] : ['left', 'right'], ['up', 'down'], ['forward', 'back']][k];
  const away = leads(v, side) > 0;
  return { plus: names[away ? 0 : 1], minus: names[away ? 1 : 0] };
}
