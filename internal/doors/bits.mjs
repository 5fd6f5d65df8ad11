// Numbers as the table has them: shortest decimals that are read back to the last bit.

// numbers reads a quaternion's.
export function numbers(text) {
  return text.split(' ').map(Number);
}

// text writes them; those of float32 are exact as float64, too.
export function text(numbers) {
  return Array.from(numbers, (x) => (Object.is(x, -0) ? '-0' : String(x))).join(' ');
}

// each gives the quaternions of segments that stand side by side.
export function each(segments) {
  return Array.from({ length: segments.length / 4 }, (_, i) => text(segments.slice(4 * i, 4 * i + 4)));
}
