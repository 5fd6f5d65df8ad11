// The tasks as one would write them with gl-matrix, which keeps its numbers in
// float32 unless told otherwise, and computes in float64.
import { readFileSync } from 'node:fs';
import { glMatrix, quat, vec3 } from 'gl-matrix';
import { arrays, load, row, segments, shares, version } from './peer.mjs';

const installed = new URL('./node_modules/gl-matrix/package.json', import.meta.url);
version(`gl-matrix ${JSON.parse(readFileSync(installed)).version}`);

for (const precision of ['float64', 'float32']) {
  glMatrix.setMatrixArrayType(arrays[precision]);
  const { poses, targets, axis } = load(precision);
  const n = poses.length / 4;
  // Views, made once: gl-matrix works on arrays in place.
  const views = (array, size) =>
    Array.from({ length: array.length / size }, (_, i) => array.subarray(i * size, (i + 1) * size));
  const qs = views(poses, 4);
  const ts = views(targets, 3);
  const twist = quat.create();
  const identity = quat.create();

  const limbs = new arrays[precision](n * segments * 4);
  const limbViews = views(limbs, 4);
  row('limb', 'gl-matrix, by slerp', precision, limbs, () => {
    for (let i = 0; i < n; i++) {
      const q = qs[i];
      const p = vec3.dot(q, axis);
      quat.set(twist, -axis[0] * p, -axis[1] * p, -axis[2] * p, q[3]);
      quat.normalize(twist, twist);
      for (let j = 0; j < segments; j++) {
        quat.slerp(limbViews[i * segments + j], twist, identity, shares[j] + 1);
      }
    }
  });
  row('limb', 'gl-matrix, careful', precision, limbs, () => {
    for (let i = 0; i < n; i++) {
      const q = qs[i];
      const p = vec3.dot(q, axis);
      const angle = 2 * (q[3] < 0 ? Math.atan2(-p, -q[3]) : Math.atan2(p, q[3]));
      for (let j = 0; j < segments; j++) {
        quat.setAxisAngle(limbViews[i * segments + j], axis, shares[j] * angle);
      }
    }
  });

  const from = vec3.create();
  const to = vec3.create();
  const half = vec3.create();
  const arc = quat.create();
  const aims = new arrays[precision](n * 4);
  const aimViews = views(aims, 4);
  row('aim', 'gl-matrix, by rotationTo', precision, aims, () => {
    for (let i = 0; i < n; i++) {
      vec3.transformQuat(from, axis, qs[i]);
      vec3.normalize(to, ts[i]);
      quat.rotationTo(arc, from, to);
      quat.multiply(aimViews[i], arc, qs[i]);
    }
  });
  row('aim', 'gl-matrix, careful', precision, aims, () => {
    for (let i = 0; i < n; i++) {
      vec3.transformQuat(from, axis, qs[i]);
      vec3.normalize(to, ts[i]);
      vec3.add(half, from, to);
      const length = vec3.length(half);
      if (length > Number.EPSILON) {
        vec3.scale(half, half, 1 / length);
        arc[3] = vec3.dot(from, half);
        vec3.cross(arc, from, half);
      } else {
        quat.rotationTo(arc, from, to); // opposite: any half turn across
      }
      quat.multiply(aimViews[i], arc, qs[i]);
    }
  });
}
