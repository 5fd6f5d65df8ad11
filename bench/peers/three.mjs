// The tasks as one would write them with three, which computes in float64.
import { Quaternion, REVISION, Vector3 } from 'three';
import { load, row, segments, shares, version } from './peer.mjs';

version(`three r${REVISION}`);
const precision = 'float64';
const { poses, targets, axis: a } = load(precision);
const n = poses.length / 4;
const axis = new Vector3(a[0], a[1], a[2]);
const q = new Quaternion();
const t = new Quaternion();
const s = new Quaternion();
const identity = new Quaternion();

const limbs = new Float64Array(n * segments * 4);
row('limb', 'three, by slerp', precision, limbs, () => {
  for (let i = 0; i < n; i++) {
    q.fromArray(poses, 4 * i);
    const p = q.x * axis.x + q.y * axis.y + q.z * axis.z;
    t.set(axis.x * p, axis.y * p, axis.z * p, q.w).normalize().conjugate();
    for (let j = 0; j < segments; j++) {
      s.slerpQuaternions(t, identity, shares[j] + 1).toArray(limbs, 4 * (i * segments + j));
    }
  }
});
row('limb', 'three, careful', precision, limbs, () => {
  for (let i = 0; i < n; i++) {
    q.fromArray(poses, 4 * i);
    const p = q.x * axis.x + q.y * axis.y + q.z * axis.z;
    const angle = 2 * (q.w < 0 ? Math.atan2(-p, -q.w) : Math.atan2(p, q.w));
    for (let j = 0; j < segments; j++) {
      s.setFromAxisAngle(axis, shares[j] * angle).toArray(limbs, 4 * (i * segments + j));
    }
  }
});

const from = new Vector3();
const to = new Vector3();
const half = new Vector3();
const aims = new Float64Array(n * 4);
row('aim', 'three, by setFromUnitVectors', precision, aims, () => {
  for (let i = 0; i < n; i++) {
    q.fromArray(poses, 4 * i);
    from.copy(axis).applyQuaternion(q);
    to.fromArray(targets, 3 * i).normalize();
    s.setFromUnitVectors(from, to).multiply(q).toArray(aims, 4 * i);
  }
});
row('aim', 'three, careful', precision, aims, () => {
  for (let i = 0; i < n; i++) {
    q.fromArray(poses, 4 * i);
    from.copy(axis).applyQuaternion(q);
    to.fromArray(targets, 3 * i).normalize();
    half.addVectors(from, to);
    const length = half.length();
    if (length > Number.EPSILON) {
      half.divideScalar(length);
      const w = from.dot(half);
      half.crossVectors(from, half);
      s.set(half.x, half.y, half.z, w);
    } else {
      s.setFromUnitVectors(from, to); // opposite: any half turn across
    }
    s.multiply(q).toArray(aims, 4 * i);
  }
});
