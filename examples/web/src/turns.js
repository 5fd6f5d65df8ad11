// What a drag asks of the limb and tells it, in the world; see drag.js.
import { conjugate, multiply, rotate, unit } from './rotation.js';

export class Turns {
  // picture has shown (see model.js), pose and changed().
  constructor(picture) {
    this.picture = picture;
  }

  // partAt is what a vertex belongs to: the joint, the tip or neither.
  partAt(figure, vertex) {
    const group = figure.skin.mostly[vertex];
    return group === 0 ? null : group === figure.motions.tip ? 'tip' : 'joint';
  }

  rootOf(what) {
    return what === 'tip' ? this.#end() : this.picture.shown.ends.root;
  }

  end() {
    return this.#end();
  }

  #end() {
    const { root, end } = this.picture.shown.ends;
    const now = rotate([0, 0, 0], this.picture.swing(), end.map((x, k) => x - root[k]));
    return root.map((x, k) => x + now[k]);
  }

  begin() {
    const { pose } = this.picture;
    this.grabbed = { joint: pose.direction('joint'), tip: pose.direction('tip') };
    this.from = structuredClone(pose.angles);
  }

  // bend turns the part by a rotation in the world, since the grab, and keeps its twist.
  bend(what, by) {
    const { pose } = this.picture;
    const frame = multiply([0, 0, 0, 1], this.picture.shown.rest, what === 'tip' ? pose.units.joint : identity);
    const local = multiply([0, 0, 0, 1], multiply([0, 0, 0, 1], conjugate([0, 0, 0, 1], frame), by), frame);
    pose.bendTo(what, unit(rotate([0, 0, 0], local, this.grabbed[what])));
    this.picture.changed();
  }

  // twist turns what is ramped: the joint about its bone, or the tip.
  twist(by) {
    const { pose, shown } = this.picture;
    const what = shown.limb.twist === 'tip' ? 'tip' : 'joint';
    pose.turn(what, { twist: this.from[what].twist + (by * 180) / Math.PI });
    this.picture.changed();
  }
}

const identity = [0, 0, 0, 1];
