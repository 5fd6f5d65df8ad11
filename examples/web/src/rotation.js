// Rotations as quaternions x, y, z, w in arrays, as glTF has them. Results go into
// the first argument, which may be one of the others, so that a frame allocates
// nothing.

export function multiply(out, a, b) {
  const [ax, ay, az, aw] = a, [bx, by, bz, bw] = b;
  out[0] = aw * bx + ax * bw + ay * bz - az * by;
  out[1] = aw * by - ax * bz + ay * bw + az * bx;
  out[2] = aw * bz + ax * by - ay * bx + az * bw;
  out[3] = aw * bw - ax * bx - ay * by - az * bz;
  return out;
}

export function conjugate(out, q) {
  out[0] = -q[0];
  out[1] = -q[1];
  out[2] = -q[2];
  out[3] = q[3];
  return out;
}

// rotate turns a vector by a quaternion of length 1.
export function rotate(out, q, v) {
  const [x, y, z, w] = q, [vx, vy, vz] = v;
  const cx = y * vz - z * vy + w * vx, cy = z * vx - x * vz + w * vy, cz = x * vy - y * vx + w * vz;
  out[0] = vx + 2 * (y * cz - z * cy);
  out[1] = vy + 2 * (z * cx - x * cz);
  out[2] = vz + 2 * (x * cy - y * cx);
  return out;
}

export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

export function unit(v) {
  const length = Math.hypot(...v);
  return length > 0 ? v.map((x) => x / length) : v.slice();
}

// arc is the shortest rotation from one direction to another, both of length 1.
// Opposite ones have no shortest; it then takes any half turn.
export function arc(out, from, to) {
  const w = 1 + dot(from, to);
  if (w < 1e-12) { // half a turn, to the rounding of a dot product
    const aside = Math.abs(from[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
    const axis = unit(cross(from, aside));
    out[0] = axis[0];
    out[1] = axis[1];
    out[2] = axis[2];
    out[3] = 0;
    return out;
  }
  const c = cross(from, to);
  const length = Math.hypot(c[0], c[1], c[2], w);
  for (let i = 0; i < 3; i++) out[i] = c[i] / length;
  out[3] = w / length;
  return out;
}

// fromVector is the rotation about a vector by its length in radians.
export function fromVector(out, v) {
  const angle = Math.hypot(v[0], v[1], v[2]);
  const k = angle > 0 ? Math.sin(angle / 2) / angle : 0.5;
  for (let i = 0; i < 3; i++) out[i] = k * v[i];
  out[3] = Math.cos(angle / 2);
  return out;
}

// toVector undoes fromVector for rotations of up to half a turn.
export function toVector(q) {
  const sign = q[3] < 0 ? -1 : 1;
  const sin = Math.hypot(q[0], q[1], q[2]);
  const k = sin > 0 ? (sign * 2 * Math.atan2(sin, sign * q[3])) / sin : 2 * sign;
  return [k * q[0], k * q[1], k * q[2]];
}

// twistAngle is how far a rotation turns about an axis of length 1, in radians,
// within half a turn.
export function twistAngle(q, axis) {
  const along = dot(q, axis);
  return q[3] < 0 ? 2 * Math.atan2(-along, -q[3]) : 2 * Math.atan2(along, q[3]);
}

const degrees = 180 / Math.PI;

// compose makes a joint's rotation from rest of angles in degrees: first the twist
// about the bone, then the bend, the shortest way, towards two directions at right
// angles to the bone.
export function compose(out, angles, bone) {
  const turn = [0, 0, 0], about = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    turn[i] = (angles.first * bone.about[0][i] + angles.second * bone.about[1][i]) / degrees;
    about[i] = (angles.twist * bone.axis[i]) / degrees;
  }
  return multiply(out, fromVector([0, 0, 0, 1], turn), fromVector([0, 0, 0, 1], about));
}

// takeApart undoes compose, of a rotation of length 1.
export function takeApart(q, bone) {
  const twist = twistAngle(q, bone.axis);
  const about = fromVector([0, 0, 0, 1], bone.axis.map((x) => -twist * x));
  const bend = toVector(multiply([0, 0, 0, 1], q, about));
  return { first: dot(bend, bone.about[0]) * degrees, second: dot(bend, bone.about[1]) * degrees, twist: twist * degrees };
}
