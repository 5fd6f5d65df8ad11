// pronate.wasm for one limb: a batch of one pose in float64, solved every frame.
import { load } from '../../../cmd/libpronate/js/pronate.js';
import { twistAngle } from './rotation.js';

let pronate = null;

export async function start(base) {
  pronate = await load(new URL('pronate.wasm', base));
}

export class Solver {
  #limb;
  #batch;

  constructor(specification) {
    this.specification = specification;
    this.#limb = pronate.limb(specification);
    this.#batch = this.#limb.batch(1, Float64Array);
    this.info = this.#limb.info();
    this.segments = new Float64Array(4 * this.#limb.segments); // x, y, z, w of each
    this.outcome = { undefined: 0, notFinite: 0 };
  }

  solve(joint, tip) {
    this.#batch.joints.set(joint);
    this.#batch.tips.set(tip);
    this.outcome = this.#batch.solve(1);
    this.segments.set(this.#batch.segments);
  }

  // twists are how far the segments turn about the bone, in radians, beside the joint.
  twist(segment) {
    return twistAngle(this.segments.subarray(4 * segment, 4 * segment + 4), this.info.axis);
  }

  free() {
    this.#batch.free();
    this.#limb.free();
  }
}
