// The character that is shown: its limbs, and for one of them the figures with one
// joint and with segments. Splits are kept, so going back to one costs nothing.
import { boneOf } from './bone.js';
import { readCharacter } from './character.js';
import { Figure } from './figure.js';
import { Leaves } from './leaves.js';
import { hasRange, specified } from './limb-file.js';
import { Solver } from './solver.js';
import { warningsOf } from './warnings.js';

const kept = 12; // splits
let last = 0; // number of a character

export class Model {
  #splits = new Map();
  #ones = new Map();

  static async read(splitter, name, bytes) {
    const number = ++last;
    try {
      const found = await splitter.detect(number, name, bytes);
      if (!found.limbs.length) throw new Error(`${name}: found no limb to split, expected thighs, upper arms or forearms`);
      return new Model(splitter, number, await readCharacter(name, bytes), found);
    } catch (error) {
      splitter.forget(number);
      throw error;
    }
  }

  constructor(splitter, number, character, { limbs, warnings }) {
    this.splitter = splitter;
    this.number = number;
    this.character = character;
    this.limbs = limbs;
    this.warnings = warnings;
    this.name = character.name;
  }

  // shown makes what the settings ask for: the limb, its figures one and split, and what
  // is known of it.
  async shown(settings) {
    const limb = this.limbs[settings.limb];
    const split = await this.#split(settings);
    const { info, ends } = split;
    if (!this.#ones.has(settings.limb)) {
      const tip = limb.twist === 'tip' ? info.tip : -1;
      this.#ones.set(settings.limb, new Figure(this.character, { joint: info.joint, tip, segments: [] }, ends));
    }
    return { limb, ...split, one: this.#ones.get(settings.limb) };
  }

  #split(settings) {
    const key = JSON.stringify([settings.limb, settings.segments, settings.ramp]);
    const known = this.#splits.get(key);
    this.#splits.delete(key); // the one that is used goes last
    const made = known ?? this.#make(settings);
    this.#splits.set(key, made);
    if (!known) made.catch(() => this.#splits.delete(key));
    if (this.#splits.size > kept) this.#forget(this.#splits.keys().next().value);
    return made;
  }

  #forget(key) {
    this.#splits.get(key).then(({ split }) => split.dispose(), () => {});
    this.#splits.delete(key);
  }

  async #make(settings) {
    const limb = this.limbs[settings.limb];
    const wanted = specified(limb, { ...settings, field: limb.field ?? '' }); // weights do not depend on it
    const answer = await this.splitter.split(this.number, [wanted]);
    const [info] = answer.limbs;
    const character = await readCharacter(this.name, answer.glb);
    const joint = character.nodes[info.joint];
    const bone = boneOf(info.solver.axis, joint.outside, limb.side);
    const root = joint.world.elements.slice(12, 15);
    const ends = { root, end: root.map((x, k) => x + info.end_length_m * bone.along[k]) };
    const tip = limb.twist === 'tip' ? info.tip : -1;
    const split = new Figure(character, { joint: info.joint, tip, segments: info.segments }, ends);
    return { info, split, bone, ends, rest: joint.outside.rotation, leaves: new Leaves(info), warnings: warningsOf(this.warnings, answer) };
  }

  solver({ limb, info }, field) {
    return new Solver(hasRange(limb) ? { ...info.solver, field } : info.solver);
  }

  dispose() {
    this.splitter.forget(this.number);
    for (const key of this.#splits.keys()) this.#forget(key);
    for (const figure of this.#ones.values()) figure.dispose();
  }
}
