// Characters made of others, and rotations.

// edited is a .glb with other JSON.
export function edited(glb, edit) {
  const length = glb.readUInt32LE(12);
  const json = JSON.parse(glb.subarray(20, 20 + length));
  edit(json);
  const text = Buffer.from(JSON.stringify(json));
  const padded = Buffer.concat([text, Buffer.alloc((4 - (text.length % 4)) % 4, ' ')]);
  const head = Buffer.alloc(20);
  const rest = glb.subarray(20 + length);
  glb.copy(head, 0, 0, 20);
  head.writeUInt32LE(20 + padded.length + rest.length, 8);
  head.writeUInt32LE(padded.length, 12);
  return Buffer.concat([head, padded, rest]);
}

export function unit(v) {
  const length = Math.hypot(...v);
  return v.map((x) => x / length);
}
