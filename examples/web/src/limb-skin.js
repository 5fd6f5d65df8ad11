// Skinning on the processor, of the vertices that one limb moves and no others.
// Weights on joints that move alike are added up first, so a vertex has one term for
// each motion. Nothing is allocated in a frame.
import { still } from './motions.js';

export class LimbSkin {
  constructor(character, motions) {
    this.motions = motions;
    this.rest = character.rest;
    this.posed = character.rest.slice();
    this.normals = character.normals.slice();
    this.restNormals = character.normals;
    const vertices = [], start = [0], groups = [], terms = [], pivots = [];
    const { held } = character, count = held.start.length - 1;
    for (let v = 0; v < count; v++) {
      const sums = new Map();
      for (let h = held.start[v]; h < held.start[v + 1]; h++) {
        const group = motions.of[held.nodes[h]];
        const sum = sums.get(group) ?? sums.set(group, [0, 0, 0, 0]).get(group);
        for (let k = 0; k < 4; k++) sum[k] += held.terms[4 * h + k];
      }
      if (sums.size === 1 && sums.has(still)) continue;
      let pivot = -1, most = 0;
      for (const [group, sum] of [...sums].sort((a, b) => a[0] - b[0])) {
        if (sum[3] > most) [pivot, most] = [groups.length, sum[3]];
        groups.push(group);
        terms.push(...sum);
      }
      vertices.push(v);
      pivots.push(pivot);
      start.push(groups.length);
    }
    this.mostly = new Uint8Array(count); // the heaviest motion of each vertex
    vertices.forEach((v, i) => (this.mostly[v] = groups[pivots[i]]));
    this.vertices = Uint32Array.from(vertices);
    this.start = Uint32Array.from(start);
    this.groups = Uint8Array.from(groups);
    this.pivots = Int32Array.from(pivots);
    // For each motion of a vertex, where the joints of it alone would put the
    // vertex at rest, times their weight; and the weight.
    this.terms = Float64Array.from(terms);
  }

  // linear blends the motions as matrices.
  linear() {
    const { vertices, start, groups, terms, posed } = this;
    const m = this.motions.matrices;
    for (let i = 0; i < vertices.length; i++) {
      let x = 0, y = 0, z = 0;
      for (let k = start[i]; k < start[i + 1]; k++) {
        const at = 12 * groups[k], t = 4 * k;
        const tx = terms[t], ty = terms[t + 1], tz = terms[t + 2], tw = terms[t + 3];
        x += m[at] * tx + m[at + 1] * ty + m[at + 2] * tz + m[at + 3] * tw;
        y += m[at + 4] * tx + m[at + 5] * ty + m[at + 6] * tz + m[at + 7] * tw;
        z += m[at + 8] * tx + m[at + 9] * ty + m[at + 10] * tz + m[at + 11] * tw;
      }
      const v = 3 * vertices[i];
      posed[v] = x;
      posed[v + 1] = y;
      posed[v + 2] = z;
    }
    this.#turnNormals();
  }

  // dual blends them as dual quaternions (Kavan, Collins, Žára & O'Sullivan 2008,
  // ACM TOG 27(4):105): each is taken on the side of the heaviest one's, for q and -q
  // are the same rotation but not in a sum.
  dual() {
    const { vertices, start, groups, terms, pivots, posed, rest } = this;
    const { rotations: q, places: p } = this.motions;
    for (let i = 0; i < vertices.length; i++) {
      const side = 4 * groups[pivots[i]];
      let rx = 0, ry = 0, rz = 0, rw = 0, dx = 0, dy = 0, dz = 0, dw = 0; // the dual part twice
      for (let k = start[i]; k < start[i + 1]; k++) {
        const at = 4 * groups[k], to = 3 * groups[k];
        const same = q[at] * q[side] + q[at + 1] * q[side + 1] + q[at + 2] * q[side + 2] + q[at + 3] * q[side + 3];
        const w = same < 0 ? -terms[4 * k + 3] : terms[4 * k + 3];
        const ax = w * q[at], ay = w * q[at + 1], az = w * q[at + 2], aw = w * q[at + 3];
        const px = p[to], py = p[to + 1], pz = p[to + 2];
        rx += ax;
        ry += ay;
        rz += az;
        rw += aw;
        dx += aw * px + py * az - pz * ay;
        dy += aw * py + pz * ax - px * az;
        dz += aw * pz + px * ay - py * ax;
        dw -= px * ax + py * ay + pz * az;
      }
      const scale = 1 / (rx * rx + ry * ry + rz * rz + rw * rw);
      const v = 3 * vertices[i];
      const x = rest[v], y = rest[v + 1], z = rest[v + 2];
      const cx = ry * z - rz * y, cy = rz * x - rx * z, cz = rx * y - ry * x;
      posed[v] = x + scale * (2 * (rw * cx + ry * cz - rz * cy) + dx * rw - dw * rx - dy * rz + dz * ry);
      posed[v + 1] = y + scale * (2 * (rw * cy + rz * cx - rx * cz) + dy * rw - dw * ry - dz * rx + dx * rz);
      posed[v + 2] = z + scale * (2 * (rw * cz + rx * cy - ry * cx) + dz * rw - dw * rz - dx * ry + dy * rx);
    }
    this.#turnNormals();
  }

  // Normals are turned by the blended matrices, which is how they are lit everywhere.
  #turnNormals() {
    const { vertices, start, groups, terms, normals, restNormals } = this;
    const m = this.motions.matrices;
    for (let i = 0; i < vertices.length; i++) {
      const v = 3 * vertices[i];
      const nx = restNormals[v], ny = restNormals[v + 1], nz = restNormals[v + 2];
      let x = 0, y = 0, z = 0;
      for (let k = start[i]; k < start[i + 1]; k++) {
        const at = 12 * groups[k], w = terms[4 * k + 3];
        x += w * (m[at] * nx + m[at + 1] * ny + m[at + 2] * nz);
        y += w * (m[at + 4] * nx + m[at + 5] * ny + m[at + 6] * nz);
        z += w * (m[at + 8] * nx + m[at + 9] * ny + m[at + 10] * nz);
      }
      const length = Math.sqrt(x * x + y * y + z * z) || 1;
      normals[v] = x / length;
      normals[v + 1] = y / length;
      normals[v + 2] = z / length;
    }
  }
}
