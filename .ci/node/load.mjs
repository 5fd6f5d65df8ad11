// load(path, ...plugins): reads a .glb with three's GLTFLoader, without what there is
// nothing here to draw with.
import { readFile } from 'node:fs/promises';

// The loader is made for browsers; these are all it asks of one here.
globalThis.self = globalThis;
globalThis.ProgressEvent ??= class ProgressEvent extends Event {};

const { GLTFLoader } = await import('three/addons/loaders/GLTFLoader.js');

// Takes materials and images out of a .glb, since there is nothing here to draw
// them with, and puts it together again.
function undressed(glb) {
  const length = glb.readUInt32LE(12);
  const document = JSON.parse(glb.toString('utf8', 20, 20 + length));
  for (const key of ['materials', 'textures', 'images', 'samplers']) delete document[key];
  for (const mesh of document.meshes ?? []) {
    for (const primitive of mesh.primitives) delete primitive.material;
  }
  let text = Buffer.from(JSON.stringify(document));
  text = Buffer.concat([text, Buffer.alloc((4 - (text.length % 4)) % 4, ' ')]);
  const rest = glb.subarray(20 + length);
  const header = Buffer.from(glb.subarray(0, 20));
  header.writeUInt32LE(20 + text.length + rest.length, 8);
  header.writeUInt32LE(text.length, 12);
  const whole = new Uint8Array(Buffer.concat([header, text, rest]));
  return whole.buffer;
}

export async function load(path, ...plugins) {
  const loader = new GLTFLoader();
  for (const plugin of plugins) loader.register(plugin);
  return loader.parseAsync(undressed(await readFile(path)), '');
}
