// What turns of the skin are counted from.
import { conjugate, fromVector, multiply, twistAngle } from './rotation.js';

// swingOf is, in the world, the shortest way that a limb's bone has been bent or, where
// the tip's twist is ramped, all that the joint does. joint is the joint's rotation from
// rest, of length 1, axis the bone's, both in the joint's frame, which stands in the
// world as rest does.
export function swingOf(joint, axis, rest, tipTwists) {
  const local = [0, 0, 0, 1];
  if (tipTwists) multiply(local, joint, local);
  else {
    const twist = twistAngle(joint, axis);
    multiply(local, joint, fromVector([0, 0, 0, 1], axis.map((x) => -twist * x)));
  }
  return multiply(local, multiply(local, rest, local), conjugate([0, 0, 0, 1], rest));
}
