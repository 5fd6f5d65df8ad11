// Cuts through a limb across its bone, made at rest as places on the mesh's edges and
// followed to where the skin is now, as chain/skin/section.go does: the radius that is
// left, and how far the skin has turned about the bone. Turns are carried along from the
// end of the bone, where the skin follows the joint and nothing else; at the root it
// half follows the body, and where a plane begins there would be anybody's choice.
import { arc, cross, dot, multiply, rotate, unit } from './rotation.js';

export const stations = 33; // from the root to the end, as `pronate check` has it

export class Sections {
  constructor(character, skin, root, end) {
    const bone = { root, direction: unit(end.map((x, i) => x - root[i])), length: Math.hypot(...end.map((x, i) => x - root[i])) };
    const { rest } = character;
    const corners = cornersOf(character, skin);
    const weld = welded(rest, corners);
    this.posed = skin.posed;
    this.bone = bone;
    this.cuts = Array.from({ length: stations }, (_, k) => cut(rest, corners, weld, bone, k / (stations - 1)));
    this.radius = new Float64Array(stations).fill(NaN); // of that at rest
    this.turn = new Float64Array(stations).fill(NaN); // radians
    this.narrowest = NaN;
    this.centres = this.cuts.map(() => [0, 0, 0]);
    this.areas = this.cuts.map(() => [0, 0, 0]);
    this.carry = [0, 0, 0, 1];
  }

  // measure takes the rotation, in the world, that turns are counted from.
  measure(from) {
    const { posed, cuts, centres } = this;
    for (let k = 0; k < 4; k++) this.carry[k] = from[k];
    for (let k = 0; k < cuts.length; k++) centre(centres[k], cuts[k], posed);
    let before = NaN;
    this.narrowest = NaN;
    for (let k = cuts.length - 1; k >= 0; k--) {
      this.radius[k] = this.turn[k] = NaN;
      if (cuts[k].lines.length === 0) continue;
      this.#carryOn(k);
      this.#follow(k);
      if (!(this.radius[k] >= this.narrowest)) this.narrowest = this.radius[k];
      if (Number.isNaN(this.turn[k])) continue;
      // Beyond a half turn in all, by less than that from one to the next.
      if (!Number.isNaN(before)) this.turn[k] -= 2 * Math.PI * Math.round((this.turn[k] - before) / (2 * Math.PI));
      before = this.turn[k];
    }
  }

  // #carryOn turns the plane that is carried along the shortest way to this section's.
  #carryOn(k) {
    const { cuts, centres, areas, posed, bone } = this;
    const area = vectorArea(areas[k], cuts[k], posed, centres[k]);
    const size = Math.hypot(area[0], area[1], area[2]);
    const before = k > 0 && cuts[k - 1].lines.length ? centres[k - 1] : centres[k];
    const after = k + 1 < cuts.length && cuts[k + 1].lines.length ? centres[k + 1] : centres[k];
    const onward = [after[0] - before[0], after[1] - before[1], after[2] - before[2]];
    // A section without area, or folded so far that it faces backwards, has no plane.
    if (!(size > flat * cuts[k].area) || dot(onward, area) < 0) return;
    const normal = rotate([0, 0, 0], this.carry, bone.direction);
    multiply(this.carry, arc([0, 0, 0, 1], normal, [area[0] / size, area[1] / size, area[2] / size]), this.carry);
  }

  #follow(k) {
    const { share, spokes, places, radius, spread } = this.cuts[k];
    const { posed, carry } = this, middle = this.centres[k];
    const normal = rotate([0, 0, 0], carry, this.bone.direction), was = [0, 0, 0], is = [0, 0, 0];
    let left = 0, sin = 0, cos = 0;
    for (let i = 0; i < share.length; i++) {
      at(is, places, i, posed);
      for (let x = 0; x < 3; x++) is[x] -= middle[x];
      left += share[i] * Math.sqrt(dot(is, is));
      rotate(was, carry, spokes[i]);
      sin += share[i] * (normal[0] * (was[1] * is[2] - was[2] * is[1]) + normal[1] * (was[2] * is[0] - was[0] * is[2]) + normal[2] * (was[0] * is[1] - was[1] * is[0]));
      cos += share[i] * dot(was, is);
    }
    this.radius[k] = left / radius;
    if (Math.hypot(sin, cos) > flat * spread) this.turn[k] = Math.atan2(sin, cos);
  }
}

const flat = 2 ** -26; // the part of its area from which on a section has a plane

// cornersOf are the triangles that the limb's own motions hold in any vertex: those of
// the joint and of its segments, not the tip's.
function cornersOf(character, skin) {
  const limb = new Uint8Array(character.rest.length / 3);
  const own = (group) => group > 0 && group !== skin.motions.tip;
  const { joint, segments } = skin.motions.limb;
  const nodes = new Set([joint, ...segments]);
  const { held, triangles } = character, out = [];
  for (let v = 0; v < limb.length; v++) {
    for (let h = held.start[v]; h < held.start[v + 1]; h++) {
      const node = held.nodes[h];
      if (nodes.has(node) && own(skin.motions.of[node])) limb[v] = 1;
    }
  }
  for (let t = 0; t < triangles.length; t += 3) {
    if (limb[triangles[t]] || limb[triangles[t + 1]] || limb[triangles[t + 2]]) out.push(triangles[t], triangles[t + 1], triangles[t + 2]);
  }
  return out;
}

// welded gives vertices at the same place the same number.
function welded(rest, corners) {
  const numbers = new Map(), out = new Map();
  for (const v of corners) {
    const key = `${rest[3 * v]} ${rest[3 * v + 1]} ${rest[3 * v + 2]}`;
    if (!numbers.has(key)) numbers.set(key, v);
    out.set(v, numbers.get(key));
  }
  return out;
}

// cut makes one section: its places, each on the edge from i to j at t, and the lines
// between them, of the loops that go round the bone.
function cut(rest, corners, weld, bone, station) {
  const height = new Map();
  for (const v of corners) {
    let sum = -station * bone.length;
    for (let x = 0; x < 3; x++) sum += (rest[3 * v + x] - bone.root[x]) * bone.direction[x];
    height.set(v, sum);
  }
  const beyond = (v) => height.get(v) > 0 || (height.get(v) === 0 && station >= 0.5);
  const found = new Map(), all = [];
  const on = (i, j) => {
    let [a, b] = [weld.get(i), weld.get(j)];
    if (a > b) [i, j, a, b] = [j, i, b, a];
    const t = height.get(i) / (height.get(i) - height.get(j));
    const key = t === 0 ? `${a}` : t === 1 ? `${b}` : `${a} ${b}`;
    if (!found.has(key)) found.set(key, all.push({ i, j, t }) - 1);
    return found.get(key);
  };
  const lines = [];
  for (let c = 0; c < corners.length; c += 3) {
    let up = -1, down = -1;
    for (let e = 0; e < 3; e++) {
      const i = corners[c + e], j = corners[c + ((e + 1) % 3)];
      if (!beyond(i) && beyond(j)) up = on(i, j);
      else if (beyond(i) && !beyond(j)) down = on(i, j);
    }
    if (up !== down) lines.push([down, up]);
  }
  return atRest(rest, keepRound(rest, all, lines, bone), bone);
}

// keepRound keeps the loops along which the direction from the bone turns by more
// than half a turn.
function keepRound(rest, all, lines, bone) {
  const up = all.map((_, i) => i);
  const of = (i) => {
    while (up[i] !== i) i = up[i] = up[up[i]];
    return i;
  };
  for (const [a, b] of lines) up[of(a)] = of(b);
  const spoke = (p) => {
    const v = place(all[p], rest).map((x, i) => x - bone.root[i]);
    const along = dot(v, bone.direction);
    return v.map((x, i) => x - along * bone.direction[i]);
  };
  const turned = new Map();
  for (const [a, b] of lines) {
    const [p, q] = [spoke(a), spoke(b)];
    turned.set(of(a), (turned.get(of(a)) ?? 0) + Math.atan2(dot(bone.direction, cross(p, q)), dot(p, q)));
  }
  const number = new Map(), kept = [];
  const renumber = (p) => number.get(p) ?? number.set(p, kept.push(all[p]) - 1).get(p);
  const round = lines.filter(([a]) => Math.abs(turned.get(of(a))) > Math.PI);
  return { lines: round.map(([a, b]) => [renumber(a), renumber(b)]), kept };
}

const place = ({ i, j, t }, from) => [0, 1, 2].map((x) => (1 - t) * from[3 * i + x] + t * from[3 * j + x]);

function atRest(rest, { lines, kept }, bone) {
  const share = new Float64Array(kept.length);
  let whole = 0;
  for (const [a, b] of lines) {
    const [p, q] = [place(kept[a], rest), place(kept[b], rest)];
    const length = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
    share[a] += length / 2;
    share[b] += length / 2;
    whole += length;
  }
  share.forEach((length, i) => (share[i] = length / whole));
  const out = { lines, share, places: kept, spokes: [], radius: 0, spread: 0, area: 0 };
  const middle = centre([0, 0, 0], out, rest);
  kept.forEach((p, i) => {
    const spoke = place(p, rest).map((x, k) => x - middle[k]);
    out.spokes.push(spoke);
    out.radius += share[i] * Math.hypot(...spoke);
    out.spread += share[i] * dot(spoke, spoke);
  });
  const area = vectorArea([0, 0, 0], out, rest, middle);
  out.area = Math.hypot(...area);
  if (dot(area, bone.direction) < 0) out.lines = lines.map(([a, b]) => [b, a]); // faces that look inwards
  return out;
}

function at(out, places, index, from) {
  const { i, j, t } = places[index];
  for (let x = 0; x < 3; x++) out[x] = (1 - t) * from[3 * i + x] + t * from[3 * j + x];
  return out;
}

const one = [0, 0, 0], other = [0, 0, 0];

// centre is the mean of the places by their share of the length at rest.
function centre(out, { places, share }, from) {
  out[0] = out[1] = out[2] = 0;
  for (let k = 0; k < share.length; k++) {
    at(one, places, k, from);
    for (let x = 0; x < 3; x++) out[x] += share[k] * one[x];
  }
  return out;
}

// vectorArea is the section's area times its normal.
function vectorArea(out, { places, lines }, from, middle) {
  out[0] = out[1] = out[2] = 0;
  for (const [a, b] of lines) {
    at(one, places, a, from);
    at(other, places, b, from);
    for (let x = 0; x < 3; x++) {
      one[x] -= middle[x];
      other[x] -= middle[x];
    }
    out[0] += (one[1] * other[2] - one[2] * other[1]) / 2;
    out[1] += (one[2] * other[0] - one[0] * other[2]) / 2;
    out[2] += (one[0] * other[1] - one[1] * other[0]) / 2;
  }
  return out;
}
