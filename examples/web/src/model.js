// The character that is shown: its limbs, and for one of them the figures with one
// joint and with segments. Splits are kept, so going back to one costs nothing.
// Each limb has settings of its own, which begin as `pronate split` decides.
import { boneOf } from './bone.js';
import { readCharacter } from './character.js';
import { Figure } from './figure.js';
import { Leaves } from './leaves.js';
import { hasRange, isSplit, ownSettings, specified } from './limb-file.js';
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
      return new Model(splitter, number, await readCharacter(name, found.glb), found);
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
    this.own = limbs.map(ownSettings); // of each limb
    this.warnings = warnings;
    this.name = character.name;
  }

  // first is the limb to begin with: one that is split.
  get first() {
    return Math.max(this.own.findIndex(isSplit), 0);
  }

  // keep has a limb keep its settings.
  keep({ limb, segments, ramp, field }) {
    this.own[limb] = { segments, ramp, field };
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
    const wanted = this.#wanted(settings);
    const key = JSON.stringify([settings.limb, wanted]);
    const known = this.#splits.get(key);
    this.#splits.delete(key); // the one that is used goes last
    const made = known ?? this.#make(settings.limb, wanted);
    this.#splits.set(key, made);
    if (!known) made.catch(() => this.#splits.delete(key));
    if (this.#splits.size > kept) this.#forget(this.#splits.keys().next().value);
    return made;
  }

  #forget(key) {
    this.#splits.get(key).then(({ split }) => split.dispose(), () => {});
    this.#splits.delete(key);
  }

  // wanted are all limbs that are split, for they share vertices; the one that is shown is
  // among them. Weights do not depend on the field.
  #wanted(settings) {
    return this.limbs.flatMap((limb, i) => {
      const own = i === settings.limb ? { ...settings, segments: Math.max(settings.segments, 2) } : this.own[i];
      return isSplit(own) ? [specified(limb, { ...own, field: limb.field ?? '' })] : [];
    });
  }

  async #make(number, wanted) {
    const limb = this.limbs[number];
    const answer = await this.splitter.split(this.number, wanted);
    const info = answer.limbs.find(({ name }) => name === limb.name);
    const character = await readCharacter(this.name, answer.glb);
    const joint = character.nodes[info.joint];
    const bone = boneOf(info.solver.axis, joint.outside, limb.side);
    const root = joint.world.elements.slice(12, 15);
    const ends = { root, end: root.map((x, k) => x + info.end_length_m * bone.along[k]) };
    const tip = limb.twist === 'tip' ? info.tip : -1;
    const split = new Figure(character, { joint: info.joint, tip, segments: info.segments }, ends);
    return { info, split, bone, ends, rest: joint.outside.rotation, leaves: new Leaves(info), warnings: warningsOf(this.warnings, answer, info) };
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
