// What a drag asks of the limb and tells it, in the world; see drag.js.
import { conjugate, multiply, rotate, unit } from './rotation.js';

export class Turns {
  // page has shown (see model.js), pose and changed().
  constructor(page) {
    this.page = page;
  }

  // partAt is what a vertex belongs to: the joint, the tip or neither.
  partAt(figure, vertex) {
    const group = figure.skin.mostly[vertex];
    return group === 0 ? null : group === figure.motions.tip ? 'tip' : 'joint';
  }

  rootOf(what) {
    return what === 'tip' ? this.#end() : this.page.shown.ends.root;
  }

  end() {
    return this.#end();
  }

  #end() {
    const { root, end } = this.page.shown.ends;
    const now = rotate([0, 0, 0], this.page.swing(), end.map((x, k) => x - root[k]));
    return root.map((x, k) => x + now[k]);
  }

  begin() {
    const { pose } = this.page;
    this.grabbed = { joint: pose.direction('joint'), tip: pose.direction('tip') };
    this.from = structuredClone(pose.angles);
  }

  // bend turns the part by a rotation in the world, since the grab, and keeps its twist.
  bend(what, by) {
    const { pose } = this.page;
    const frame = multiply([0, 0, 0, 1], this.page.jointRest(), what === 'tip' ? pose.units.joint : identity);
    const local = multiply([0, 0, 0, 1], multiply([0, 0, 0, 1], conjugate([0, 0, 0, 1], frame), by), frame);
    pose.bendTo(what, unit(rotate([0, 0, 0], local, this.grabbed[what])));
    this.page.changed();
  }

  // twist turns what is ramped: the joint about its bone, or the tip.
  twist(by) {
    const { pose, shown } = this.page;
    const what = shown.limb.twist === 'tip' ? 'tip' : 'joint';
    pose.turn(what, { twist: this.from[what].twist + (by * 180) / Math.PI });
    this.page.changed();
  }
}

const identity = [0, 0, 0, 1];
