// How the limb is turned: the angles that the sliders show, and the rotations that go
// into the solver. The rotations are made of the angles, unless they are given.
import { compose, rotate, arc, takeApart, toVector, dot } from './rotation.js';

export const mostBend = 160; // degrees; half a turn would have no direction
export const mostTwist = 170;

const none = () => ({ first: 0, second: 0, twist: 0 });
const within = (x, most) => Math.min(Math.max(x, -most), most);

export class Pose {
  constructor(limb) {
    this.limb = limb;
    this.reset();
  }

  reset() {
    this.angles = { joint: none(), tip: none() };
    this.rotations = { joint: [0, 0, 0, 1], tip: [0, 0, 0, 1] }; // as they go into the solver
    this.units = { joint: [0, 0, 0, 1], tip: [0, 0, 0, 1] }; // of length 1
  }

  // turn sets some angles of the joint or of the tip. Where the two bends together
  // would be too much, the one that is not set gives way.
  turn(what, angles) {
    const now = Object.assign(this.angles[what], angles);
    now.twist = within(now.twist, mostTwist);
    const [moved, other] = 'second' in angles && !('first' in angles) ? ['second', 'first'] : ['first', 'second'];
    now[moved] = within(now[moved], mostBend);
    now[other] = within(now[other], Math.sqrt(mostBend ** 2 - now[moved] ** 2));
    compose(this.rotations[what], now, this.limb);
    this.units[what] = this.rotations[what];
  }

  // bendTo points the bone along a direction in the joint's frame, and keeps the twist.
  bendTo(what, direction) {
    const bend = toVector(arc([0, 0, 0, 1], this.limb.axis, direction)).map((x) => (x * 180) / Math.PI);
    const size = Math.hypot(...bend), k = size > mostBend ? mostBend / size : 1;
    this.turn(what, { first: k * dot(bend, this.limb.about[0]), second: k * dot(bend, this.limb.about[1]) });
  }

  // direction is where the bone points.
  direction(what) {
    return rotate([0, 0, 0], this.units[what], this.limb.axis);
  }

  // set takes a rotation as it is, to the last bit.
  set(what, rotation) {
    const given = Array.from(rotation), length = Math.hypot(...given);
    if (!(given.length === 4 && length > 0 && length < Infinity)) {
      throw new Error(`${what} is ${given}, expected a rotation [x, y, z, w] of finite numbers, not all 0`);
    }
    this.rotations[what] = given;
    this.units[what] = given.map((x) => x / length);
    this.angles[what] = takeApart(this.units[what], this.limb);
  }
}
