// Numbers as their bits, in hexadecimal words, as the table has them.

// bits reads a quaternion's four words.
export function bits(text) {
  return Array.from(new Float64Array(BigUint64Array.from(text.split(' '), (word) => BigInt(`0x${word}`)).buffer));
}

// words64 writes a quaternion's numbers.
export function words64(numbers) {
  return Array.from(new BigUint64Array(Float64Array.from(numbers).buffer), (word) => word.toString(16).padStart(16, '0')).join(' ');
}

export function words32(numbers) {
  return Array.from(new Uint32Array(Float32Array.from(numbers).buffer), (word) => word.toString(16).padStart(8, '0')).join(' ');
}

// each gives a quaternion of segments that stand side by side.
export function each(segments, words) {
  return Array.from({ length: segments.length / 4 }, (_, i) => words(segments.slice(4 * i, 4 * i + 4)));
}
