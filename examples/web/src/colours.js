// The colours of a loss, those of Pronate's pictures: pale where nothing is lost, by way
// of amber and red to a dark violet. Lightness falls evenly in CIE L*a*b* (K. Moreland's
// luminance maps), so equal steps of loss look equal, in grey print and to colour-blind
// eyes too.

export const most = 0.6; // the squeeze that gets the last colour

const controls = ['#380f4a', '#b02a4f', '#f08a3c', '#f2eee4'];

const decode = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); // sRGB, IEC 61966-2-1
const encode = (v) => (v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055);

// The white and the matrices are those of D65, as the source has them.
function labOf(hex) {
  const [r, g, b] = [1, 3, 5].map((i) => decode(parseInt(hex.slice(i, i + 2), 16) / 255));
  const f = (v) => (v > 0.008856 ? Math.cbrt(v) : 7.787 * v + 16 / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function linearOf([l, a, b]) {
  const f = (v) => (v ** 3 > 0.008856 ? v ** 3 : (v - 16 / 116) / 7.787);
  const y = (l + 16) / 116;
  const [X, Y, Z] = [0.9505 * f(a / 500 + y), f(y), 1.089 * f(y - b / 200)];
  return [3.2406 * X - 1.5372 * Y - 0.4986 * Z, -0.9689 * X + 1.8758 * Y + 0.0415 * Z, 0.0557 * X - 0.204 * Y + 1.057 * Z].map(
    (v) => Math.min(Math.max(v, 0), 1),
  );
}

// colourOf is the linear colour at t, 0 for no loss and 1 for the most.
export function colourOf(t) {
  const labs = controls.map(labOf);
  const [darkest, palest] = [labs[0][0], labs.at(-1)[0]];
  const l = palest + (darkest - palest) * Math.min(Math.max(t, 0), 1);
  const above = Math.max(1, labs.findIndex((lab) => lab[0] >= l));
  const [from, to] = [labs[above - 1], labs[above]];
  const part = (l - from[0]) / (to[0] - from[0]);
  return linearOf(from.map((x, i) => x + part * (to[i] - x)));
}

// css is the same as CSS has it.
export const css = (t) => `rgb(${colourOf(t).map((v) => Math.round(255 * encode(v))).join(' ')})`;

const steps = 1024; // finer than the eye, and than 8 bits
const table = new Float32Array(3 * steps);
for (let i = 0; i < steps; i++) table.set(colourOf(i / (steps - 1)), 3 * i);

// paint puts the colours of losses into an array of linear colours, for some vertices.
export function paint(colours, loss, vertices) {
  for (let i = 0; i < vertices.length; i++) {
    const v = vertices[i];
    const step = 3 * Math.round(Math.min(loss[v] / most, 1) * (steps - 1) || 0);
    colours[3 * v] = table[step];
    colours[3 * v + 1] = table[step + 1];
    colours[3 * v + 2] = table[step + 2];
  }
}
