// A character with one limb that moves: posed, measured, painted, and the mesh to draw.
import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Group, Mesh } from 'three';
import { colourOf, paint } from './colours.js';
import { disposeMaterial, figureMaterial } from './figure-material.js';
import { LimbSkin } from './limb-skin.js';
import { Motions } from './motions.js';
import { Sections } from './sections.js';
import { Squeeze } from './squeeze.js';

export class Figure {
  // ends are where the bone begins and ends in the world at rest.
  constructor(character, limb, ends) {
    const { held, ...kept } = character; // what holds the vertices is the largest part of it
    this.character = kept;
    this.motions = new Motions(character, limb);
    this.skin = new LimbSkin(character, this.motions);
    this.squeeze = new Squeeze(character, this.skin);
    this.sections = new Sections(character, this.skin, ends.root, ends.end);
    this.positions = new Float32Array(character.rest);
    this.losses = new Float32Array(character.rest.length); // colours of them
    for (let i = 0; i < this.losses.length; i += 3) this.losses.set(pale, i);
    this.#draw();
  }

  #draw() {
    const { character } = this;
    const attribute = (array, size) => new BufferAttribute(array, size).setUsage(DynamicDrawUsage);
    const shared = {
      index: new BufferAttribute(character.triangles, 1),
      position: attribute(this.positions, 3),
      normal: attribute(this.skin.normals, 3),
      uv: new BufferAttribute(character.uvs, 2),
      loss: attribute(this.losses, 3),
      color: new BufferAttribute(character.colours, 3),
    };
    const { index, ...attributes } = shared;
    this.shared = shared;
    this.object = new Group();
    this.parts = character.parts.map(({ start, count, material }) => {
      const geometry = new BufferGeometry().setIndex(index);
      geometry.setDrawRange(start, count);
      for (const [key, one] of Object.entries(attributes)) geometry.setAttribute(key, one);
      const looks = { lossy: figureMaterial('loss', material && { side: material.side }), own: figureMaterial('color', material) };
      const mesh = new Mesh(geometry, looks.lossy);
      mesh.frustumCulled = false; // its bounds are those at rest
      this.object.add(mesh);
      return { mesh, geometry, looks };
    });
    this.colour(true);
  }

  // extent is what the whole character takes up at rest.
  get extent() {
    const { rest } = this.character, low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < rest.length; i++) {
      low[i % 3] = Math.min(low[i % 3], rest[i]);
      high[i % 3] = Math.max(high[i % 3], rest[i]);
    }
    return { middle: low.map((x, k) => (x + high[k]) / 2), radius: Math.hypot(...low.map((x, k) => high[k] - x)) / 2 };
  }

  // colour paints by loss, or as the file has it.
  colour(byLoss) {
    for (const { mesh, looks } of this.parts) mesh.material = byLoss ? looks.lossy : looks.own;
  }

  rim(strength) {
    for (const { looks } of this.parts) for (const look of Object.values(looks)) look.uniforms.rim.value = strength;
  }

  // pose does a frame's work. from is what turns of the skin are counted from.
  pose(rotation, tip, segments, skinning, from) {
    this.motions.pose(rotation, tip, segments);
    if (skinning === 'dual') this.skin.dual();
    else this.skin.linear();
    this.squeeze.measure();
    this.sections.measure(from);
    paint(this.losses, this.squeeze.loss, this.squeeze.vertices);
    const { vertices, posed } = this.skin;
    for (let i = 0; i < vertices.length; i++) {
      const v = 3 * vertices[i];
      this.positions[v] = posed[v];
      this.positions[v + 1] = posed[v + 1];
      this.positions[v + 2] = posed[v + 2];
    }
    for (const key of ['position', 'normal', 'loss']) this.shared[key].needsUpdate = true;
  }

  // dispose gives back what the graphics card holds. Figures of one character share its
  // images: all of them go at once, or another loads the image again.
  dispose() {
    for (const { geometry, looks } of this.parts) {
      geometry.dispose();
      for (const look of Object.values(looks)) disposeMaterial(look);
    }
  }
}

const pale = colourOf(0);
