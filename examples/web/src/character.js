// A character as the page needs it, of a .glb: its nodes at rest, and all of its
// triangles as one mesh in the world, with what holds each vertex. The accessors,
// materials and textures are read by three's loader.
import { LoadingManager, Matrix4, Quaternion, Vector3 } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { frameOf } from './node-frame.js';

export async function readCharacter(name, bytes) {
  refuseOutside(name, bytes);
  // Nothing is ever fetched: what is inside the file comes as blob: or data:.
  const manager = new LoadingManager();
  manager.setURLModifier((url) => (/^(blob|data):/.test(url) ? url : 'data:,'));
  const { parser } = await new GLTFLoader(manager).parseAsync(bytes.slice().buffer, '');
  const nodes = nodesOf(parser.json);
  return { name, nodes, ...(await meshOf(name, parser, nodes)) };
}

// refuseOutside stops files that refer to others, which the page will not look for.
function refuseOutside(name, bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 20 || view.getUint32(0, true) !== 0x46546c67) throw new Error(`${name}: not a .glb file`);
  const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + view.getUint32(12, true))));
  for (const part of [...(json.buffers ?? []), ...(json.images ?? [])]) {
    if (part.uri && !part.uri.startsWith('data:')) {
      throw new Error(`${name}: refers to ${part.uri}, expected a .glb with everything inside`);
    }
  }
}

function nodesOf(json) {
  const nodes = (json.nodes ?? []).map((node) => {
    const translation = new Vector3(...(node.translation ?? [0, 0, 0]));
    const rotation = new Quaternion(...(node.rotation ?? [0, 0, 0, 1]));
    const scale = new Vector3(...(node.scale ?? [1, 1, 1]));
    if (node.matrix) new Matrix4().fromArray(node.matrix).decompose(translation, rotation, scale);
    return { name: node.name ?? '', translation, rotation, scale, children: node.children ?? [], parent: -1, world: null };
  });
  nodes.forEach((node, i) => node.children.forEach((child) => (nodes[child].parent = i)));
  const place = (i, above) => {
    const node = nodes[i];
    node.world = new Matrix4().compose(node.translation, node.rotation, node.scale).premultiply(above);
    // The node's own rotations stand outside its scale, and what hangs on it inside.
    node.outside = frameOf(new Matrix4().makeRotationFromQuaternion(node.rotation).premultiply(above));
    node.inside = frameOf(node.world);
    node.children.forEach((child) => place(child, node.world));
  };
  nodes.forEach((node, i) => node.parent < 0 && place(i, new Matrix4()));
  return nodes;
}

// meshOf flattens what the scene shows. held has what holds the vertices: the joints of
// vertex v are nodes[start[v]] to before start[v + 1], and the terms of each, four
// numbers, where it alone would put the vertex, times its weight, and that weight.
async function meshOf(name, parser, nodes) {
  const { json } = parser;
  const mesh = { rest: [], normals: [], colours: [], uvs: [], triangles: [], parts: [], start: [0], nodes: [], terms: [] };
  const roots = Array.from(nodes.keys()).filter((i) => nodes[i].parent < 0);
  const inScene = json.scenes?.[json.scene ?? 0]?.nodes ?? roots;
  const walk = async (i) => {
    const { mesh: m, skin } = json.nodes[i];
    for (const primitive of m === undefined ? [] : json.meshes[m].primitives) {
      if ((primitive.mode ?? 4) === 4) await addPrimitive(mesh, parser, nodes, i, skin, primitive);
    }
    for (const child of nodes[i].children) await walk(child);
  };
  for (const i of inScene) await walk(i);
  if (!mesh.triangles.length) throw new Error(`${name}: has no triangles to show`);
  return {
    parts: mesh.parts,
    held: { start: Uint32Array.from(mesh.start), nodes: Uint32Array.from(mesh.nodes), terms: Float64Array.from(mesh.terms) },
    rest: new Float64Array(mesh.rest),
    normals: new Float32Array(mesh.normals),
    colours: new Float32Array(mesh.colours),
    uvs: new Float32Array(mesh.uvs),
    triangles: new Uint32Array(mesh.triangles),
  };
}

async function addPrimitive(mesh, parser, nodes, node, skin, primitive) {
  const read = async (key) => (primitive.attributes[key] === undefined ? null : parser.getDependency('accessor', primitive.attributes[key]));
  const [positions, normals, colours, uvs] = await Promise.all(['POSITION', 'NORMAL', 'COLOR_0', 'TEXCOORD_0'].map(read));
  if (!positions) return;
  const holders = skin === undefined ? null : await skinOf(parser, nodes, skin);
  const sets = [];
  for (let s = 0; holders && primitive.attributes[`JOINTS_${s}`] !== undefined; s++) {
    sets.push({ joints: await read(`JOINTS_${s}`), weights: await read(`WEIGHTS_${s}`) });
  }
  const first = mesh.rest.length / 3, corner = mesh.triangles.length;
  const index = primitive.indices === undefined ? null : await parser.getDependency('accessor', primitive.indices);
  const corners = index ? index.count : positions.count;
  for (let k = 0; k < corners - (corners % 3); k++) mesh.triangles.push(first + (index ? index.getX(k) : k));
  const own = normals ? null : flatNormals(positions, mesh.triangles, corner, first);
  const [v, n, at, side, term] = Array.from({ length: 5 }, () => new Vector3());
  const itself = { node, world: nodes[node].world };
  for (let i = 0; i < positions.count; i++) {
    v.fromBufferAttribute(positions, i);
    if (normals) n.fromBufferAttribute(normals, i);
    else n.fromArray(own, 3 * i);
    const held = heldBy(sets, holders, itself, i);
    at.set(0, 0, 0);
    side.set(0, 0, 0);
    for (const { holder, weight } of held) {
      const { x, y, z } = term.copy(v).applyMatrix4(holder.world).multiplyScalar(weight);
      mesh.nodes.push(holder.node);
      mesh.terms.push(x, y, z, weight);
      at.add(term);
      side.addScaledVector(term.copy(n).transformDirection(holder.world), weight);
    }
    mesh.start.push(mesh.nodes.length);
    mesh.rest.push(at.x, at.y, at.z);
    mesh.normals.push(...side.normalize());
    if (colours) mesh.colours.push(colours.getX(i), colours.getY(i), colours.getZ(i));
    else mesh.colours.push(1, 1, 1);
    mesh.uvs.push(uvs ? uvs.getX(i) : 0, uvs ? uvs.getY(i) : 0);
  }
  const material = primitive.material === undefined ? null : await parser.getDependency('material', primitive.material);
  mesh.parts.push({ start: corner, count: mesh.triangles.length - corner, material });
}

async function skinOf(parser, nodes, index) {
  const skin = parser.json.skins[index];
  const inverse = skin.inverseBindMatrices === undefined ? null : await parser.getDependency('accessor', skin.inverseBindMatrices);
  return skin.joints.map((node, j) => {
    const world = nodes[node].world.clone();
    if (inverse) world.multiply(new Matrix4().fromArray(inverse.array, 16 * j));
    return { node, world };
  });
}

// heldBy lists what holds a vertex: its joints, or the node that the mesh hangs on.
function heldBy(sets, holders, itself, vertex) {
  const held = [];
  for (const { joints, weights } of sets) {
    for (let k = 0; k < 4; k++) {
      const weight = weights.getComponent(vertex, k);
      if (weight > 0) held.push({ holder: holders[joints.getComponent(vertex, k)], weight });
    }
  }
  return held.length ? held : [{ holder: itself, weight: 1 }];
}

function flatNormals(positions, triangles, corner, first) {
  const out = new Float32Array(3 * positions.count);
  const [a, b, c] = [new Vector3(), new Vector3(), new Vector3()];
  for (let t = corner; t < triangles.length; t += 3) {
    const ids = [0, 1, 2].map((k) => triangles[t + k] - first);
    [a, b, c].forEach((v, k) => v.fromBufferAttribute(positions, ids[k]));
    b.sub(a).cross(c.sub(a)); // by area
    for (const i of ids) b.toArray([]).forEach((x, k) => (out[3 * i + k] += x));
  }
  return out;
}
