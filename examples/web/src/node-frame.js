// How a node's frame stands in the world at rest. A frame that is mirrored is no
// rotation; it is one turned inside out, through its middle. Turns do not see that, so
// what turns in the frame is carried by the rotation alone; directions are carried by
// the rotation and `handed`.
import { Matrix4, Quaternion, Vector3 } from 'three';

const [place, turn, size, matrix] = [new Vector3(), new Quaternion(), new Vector3(), new Matrix4()];

// frameOf returns {rotation, handed}: handed is -1 for a mirrored frame, and else 1.
export function frameOf(world) {
  const handed = world.determinant() < 0 ? -1 : 1;
  matrix.copy(world).scale(size.setScalar(handed)).decompose(place, turn, size);
  return { rotation: turn.toArray(), handed };
}
