// What the joints of one limb do. Everything else stays at rest, so a vertex knows
// but a few motions: none, the joint's, the tip's and one for each segment. A motion
// is what the joint's place in the world did since rest.
import { Matrix4, Quaternion, Vector3 } from 'three';
import { conjugate, multiply } from './rotation.js';

export const still = 0; // the group of what does not move
const joint = 1;

export class Motions {
  // limb: {joint, tip, segments}, nodes of the character; tip is -1 where the tip's
  // turn is not the limb's matter.
  constructor(character, limb) {
    this.limb = limb;
    this.bones = [null, follower(character, limb.joint)];
    this.of = new Int32Array(character.nodes.length);
    this.#mark(character, limb.joint, joint);
    this.tip = -1;
    if (limb.tip >= 0) {
      this.tip = this.bones.push(follower(character, limb.tip)) - 1;
      this.#mark(character, limb.tip, this.tip);
      const above = character.nodes[character.nodes[limb.tip].parent];
      const inJoint = conjugate([0, 0, 0, 1], character.nodes[limb.joint].outside.rotation);
      this.toTip = multiply([0, 0, 0, 1], inJoint, above.inside.rotation);
      this.fromTip = conjugate([0, 0, 0, 1], this.toTip);
    }
    this.firstSegment = this.bones.length;
    for (const segment of limb.segments) {
      this.#mark(character, segment, this.bones.push(follower(character, segment)) - 1);
    }
    const n = this.bones.length;
    this.matrices = new Float64Array(12 * n); // 3 rows of 4
    this.rotations = new Float64Array(4 * n); // and as rigid motions:
    this.places = new Float64Array(3 * n); // p goes to rotation(p) + place
    this.local = [0, 0, 0, 1];
    this.pose([0, 0, 0, 1], [0, 0, 0, 1], null);
  }

  #mark(character, node, group) {
    this.of[node] = group;
    for (const child of character.nodes[node].children) this.#mark(character, child, group);
  }

  // pose takes the joint's and the tip's rotations as the solver does, and how the
  // segments turn; see leaves.js.
  pose(rotation, tip, segments) {
    this.#put(still, identity);
    const whole = this.bones[joint];
    whole.move(identity, multiply(this.local, whole.rest, rotation));
    this.#put(joint, whole.motion);
    if (this.tip >= 0) {
      const bone = this.bones[this.tip];
      multiply(this.local, multiply(this.local, this.fromTip, tip), this.toTip);
      bone.move(whole.motion, multiply(this.local, this.local, bone.rest));
      this.#put(this.tip, bone.motion);
    }
    for (let i = this.firstSegment; i < this.bones.length; i++) {
      const bone = this.bones[i], at = 4 * (i - this.firstSegment);
      for (let k = 0; k < 4; k++) this.local[k] = segments ? segments[at + k] : k === 3 ? 1 : 0;
      bone.move(whole.motion, multiply(this.local, this.local, bone.rest));
      this.#put(i, bone.motion);
    }
  }

  #put(group, motion) {
    const m = motion.elements;
    for (let row = 0; row < 3; row++) {
      for (let column = 0; column < 4; column++) this.matrices[12 * group + 4 * row + column] = m[4 * column + row];
    }
    motion.decompose(place, turn, size);
    turn.toArray(this.rotations, 4 * group);
    // A joint that is stretched stays on its joint: the rigid motion takes the
    // joint's own place where the matrix takes it.
    const origin = group === still ? zero : this.bones[group].origin;
    place.copy(origin).applyMatrix4(motion).sub(size.copy(origin).applyQuaternion(turn));
    place.toArray(this.places, 3 * group);
  }
}

const identity = new Matrix4();
const zero = new Vector3();
const [place, size, turn] = [new Vector3(), new Vector3(), new Quaternion()];

// follower is one joint: move makes its motion of what its parent did and of its own
// rotation in the parent's frame.
function follower(character, index) {
  const node = character.nodes[index];
  const above = node.parent >= 0 ? character.nodes[node.parent].world : identity;
  const back = node.world.clone().invert();
  const rotation = new Quaternion();
  return {
    rest: node.rotation.toArray(),
    origin: new Vector3().setFromMatrixPosition(node.world),
    motion: new Matrix4(),
    move(parent, local) {
      rotation.fromArray(local);
      this.motion.compose(node.translation, rotation, node.scale);
      this.motion.premultiply(above).premultiply(parent).multiply(back);
    },
  };
}
