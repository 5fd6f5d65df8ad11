// How far the skin is squeezed: 1 less the smaller principal stretch of each triangle
// from rest to where it is now, as chain/skin/strain.go measures it, and spread on the
// vertices as means by area, as Pronate's pictures do.

// Skin creases from about a fifth on (common practice, no source): from there it
// counts as squeezed.
export const limit = 0.2;

const flat = 4 * 2 ** -52; // the sine of an angle below which a triangle has no area

export class Squeeze {
  constructor(character, skin) {
    const { rest, triangles } = character;
    const moved = new Uint8Array(rest.length / 3), touched = new Uint8Array(rest.length / 3);
    for (const v of skin.vertices) moved[v] = 1;
    const around = new Float64Array(rest.length / 3); // area about each vertex
    const corners = [], shapes = [];
    for (let t = 0; t < triangles.length; t += 3) {
      const i = triangles[t], j = triangles[t + 1], k = triangles[t + 2];
      const shape = shapeOf(rest, i, j, k);
      for (const v of [i, j, k]) around[v] += shape.area;
      if (!(moved[i] || moved[j] || moved[k])) continue;
      corners.push(i, j, k);
      shapes.push(shape.along, shape.shift, shape.across, shape.area);
      touched[i] = touched[j] = touched[k] = 1;
    }
    this.posed = skin.posed;
    this.corners = Uint32Array.from(corners);
    this.shapes = Float64Array.from(shapes);
    this.vertices = Uint32Array.from(Array.from(touched.keys()).filter((v) => touched[v])); // that can change
    this.loss = new Float64Array(rest.length / 3);
    this.part = around.map((area) => (area > 0 ? 1 / area : 0));
    this.area = 0; // square metres squeezed by more than the limit, as they are at rest
    this.worst = 0;
  }

  measure() {
    const { posed, corners, shapes, loss, part, vertices } = this;
    for (let i = 0; i < vertices.length; i++) loss[vertices[i]] = 0;
    let squeezed = 0, worst = 0;
    for (let c = 0, s = 0; c < corners.length; c += 3, s += 4) {
      const across = shapes[s + 2];
      if (across === 0) continue; // no area at rest
      const i = 3 * corners[c], j = 3 * corners[c + 1], k = 3 * corners[c + 2];
      const along = shapes[s], shift = shapes[s + 1];
      const ax = posed[j] - posed[i], ay = posed[j + 1] - posed[i + 1], az = posed[j + 2] - posed[i + 2];
      const bx = posed[k] - posed[i], by = posed[k + 1] - posed[i + 1], bz = posed[k + 2] - posed[i + 2];
      // The columns of the map from the triangle's plane at rest.
      const x0 = along * ax, x1 = along * ay, x2 = along * az;
      const y0 = across * (bx - shift * ax), y1 = across * (by - shift * ay), y2 = across * (bz - shift * az);
      const xx = x0 * x0 + x1 * x1 + x2 * x2, xy = x0 * y0 + x1 * y1 + x2 * y2, yy = y0 * y0 + y1 * y1 + y2 * y2;
      const half = (xx - yy) / 2;
      const most = Math.sqrt((xx + yy) / 2 + Math.sqrt(half * half + xy * xy));
      const n0 = x1 * y2 - x2 * y1, n1 = x2 * y0 - x0 * y2, n2 = x0 * y1 - x1 * y0;
      const least = most > 0 ? Math.min(Math.sqrt(n0 * n0 + n1 * n1 + n2 * n2) / most, most) : 0;
      const squeeze = 1 - least;
      if (!(squeeze > 0)) continue;
      const area = shapes[s + 3];
      if (squeeze > limit) squeezed += area;
      if (squeeze > worst) worst = squeeze;
      loss[corners[c]] += area * squeeze;
      loss[corners[c + 1]] += area * squeeze;
      loss[corners[c + 2]] += area * squeeze;
    }
    for (let i = 0; i < vertices.length; i++) loss[vertices[i]] *= part[vertices[i]];
    this.area = squeezed;
    this.worst = worst;
  }
}

// shapeOf is a triangle at rest: 1 over the length of its first edge, how far the
// second one leans along the first, 1 over its height above it (0 for a triangle
// without area), and its area.
function shapeOf(at, i, j, k) {
  const a = [0, 1, 2].map((x) => at[3 * j + x] - at[3 * i + x]);
  const b = [0, 1, 2].map((x) => at[3 * k + x] - at[3 * i + x]);
  const length = Math.hypot(...a);
  const twice = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]);
  if (!(twice > flat * length * Math.hypot(...b))) return { along: 0, shift: 0, across: 0, area: 0 };
  return {
    along: 1 / length,
    shift: (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / (length * length),
    across: length / twice,
    area: twice / 2,
  };
}
