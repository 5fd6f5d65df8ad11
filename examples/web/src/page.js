// The page: what is chosen, the limb that is turned, and the frame that shows it.
import { AlongBone } from './along-bone.js';
import { Drag } from './drag.js';
import { Frames } from './frames.js';
import { Handles, placeHandles } from './handles.js';
import { takeKeys } from './keys.js';
import { LimbFile } from './limb-file.js';
import { Model } from './model.js';
import { Pose } from './pose.js';
import { Readout } from './readout.js';
import { conjugate, fromVector, multiply, twistAngle } from './rotation.js';
import { Settings } from './settings.js';
import { Sliders } from './sliders.js';
import { Turns } from './turns.js';
import { View } from './view.js';
import { countOf } from './words.js';

const dark = matchMedia('(prefers-color-scheme: dark)');

export class Page {
  constructor(root, splitter) {
    const find = (selector) => root.querySelector(selector);
    this.root = root;
    this.splitter = splitter;
    this.frames = new Frames();
    this.stage = find('#stage');
    this.view = new View(this.stage, find('canvas'));
    this.handles = new Handles(find('#handles'));
    this.settings = new Settings(find('#settings'), (name) => this.choose(name));
    this.sliders = new Sliders(find('#sliders'), (what, angles) => this.turn(what, angles));
    this.readout = new Readout(root);
    this.limbFile = new LimbFile(root, splitter);
    this.along = new AlongBone(find('#twists'), find('#radii'));
    this.labels = find('#labels');
    this.busy = find('#busy');
    this.alert = find('#alert');
    this.pose = null;
    this.poses = new Map(); // of the limbs that have been turned
    this.asked = 0;
    this.wanted = false; // a frame
    new Drag(this.view, this.handles, new Turns(this));
    takeKeys(this.stage, { turn: (x, y, twist) => this.nudge(x, y, twist), reset: () => this.reset(), look: (by, factor) => this.view.turn(by, factor) });
    this.view.addEventListener('look', () => this.draw());
    find('#reset').addEventListener('click', () => this.reset());
    for (const button of root.querySelectorAll('[data-look]')) button.addEventListener('click', () => this.look(button.dataset.look));
    dark.addEventListener('change', () => this.changed());
  }

  // take shows another character and says whether it could be read. Where not the one
  // before stays.
  take(name, bytes) {
    return this.#work(`Reading ${name} and looking for limbs …`, async () => {
      const model = await Model.read(this.splitter, name, bytes);
      try {
        await this.#show(model, { ...this.settings.values, limb: 0 });
      } catch (error) {
        if (model !== this.model) model.dispose();
        throw error;
      }
    });
  }

  // choose follows a change of the settings. Where it cannot be made they go back.
  async choose(name) {
    if (!this.shown) return;
    const settings = this.settings.values;
    const slow = ['limb', 'segments', 'ramp'].includes(name);
    const well = await this.#work(slow ? `Splitting into ${countOf(settings.segments)} …` : '', async () => {
      if (slow || name === 'field') return this.#show(this.model, settings);
      this.good = settings;
      this.#arrange();
      this.changed();
    });
    if (!well) this.settings.set(this.good);
  }

  async #show(model, settings) {
    const asked = ++this.asked;
    const another = model !== this.model;
    const shown = await model.shown(settings);
    const solver = model.solver(shown, settings.field);
    if (!another && (asked !== this.asked || model !== this.model)) return solver.free(); // something else was chosen meanwhile
    this.solver?.free();
    this.solver = solver;
    const limbBefore = this.shown?.limb;
    this.shown = shown;
    if (another) this.#welcome(model, settings);
    this.good = settings;
    this.settings.allow(shown.limb, settings.segments);
    if (shown.limb !== limbBefore) this.#another();
    this.#arrange();
    this.changed();
    await this.limbFile.update(model.name, model.limbs, settings);
  }

  #welcome(model, settings) {
    this.model?.dispose();
    this.model = model;
    this.poses.clear();
    this.settings.limbs(model.limbs);
    this.settings.set(settings); // whatever was chosen meanwhile
  }

  // #another turns to another limb.
  #another() {
    const { limb, bone: directions } = this.shown;
    if (!this.poses.has(limb.joint)) this.poses.set(limb.joint, new Pose(directions));
    this.pose = this.poses.get(limb.joint);
    this.sliders.make(directions, limb);
    this.stage.setAttribute('aria-label', `${limb.name} of ${this.model.name}. Arrow keys bend it, Shift with left and right twists it, Home takes it back to rest, comma and full stop turn the view, plus and minus bring it nearer.`);
    this.along.named(limb);
    this.look('limb');
  }

  // #arrange puts one figure or two into the picture.
  #arrange() {
    const { segments, compare } = this.good;
    const { one, split } = this.shown;
    const both = [{ figure: one, label: 'one joint' }, { figure: split, label: countOf(segments) }];
    const figures = segments === 1 ? both.slice(0, 1) : compare ? both : both.slice(1);
    this.view.show(figures);
    this.labels.replaceChildren(...figures.map(({ label }) => Object.assign(document.createElement('span'), { textContent: label })));
  }

  look(which) {
    if (!this.shown) return;
    const { root, end } = this.shown.ends;
    const aside = { left: 0.5, right: -0.5 }[this.shown.limb.side] ?? 0.5;
    const middle = root.map((x, k) => (x + end[k]) / 2);
    const length = Math.hypot(...end.map((x, k) => x - root[k]));
    if (which === 'limb') this.view.lookAt(middle, 1.05 * length, [aside, 0.15, 1]);
    if (which === 'whole') {
      const { middle: whole, radius } = this.shown.one.extent;
      this.view.lookAt(whole, radius, [0.3, 0.1, 1]);
    }
    if (which === 'left') this.view.turn(-Math.PI / 4);
    if (which === 'right') this.view.turn(Math.PI / 4);
  }

  turn(what, angles) {
    this.pose.turn(what, angles);
    this.changed();
  }

  nudge(x, y, twist) {
    if (!this.shown) return;
    const { limb, bone } = this.shown;
    const tip = limb.twist === 'tip';
    if (twist) {
      const what = tip ? 'tip' : 'joint';
      this.turn(what, { twist: this.pose.angles[what].twist + x + y });
      return;
    }
    const { first, second } = this.pose.angles.joint;
    if (y) this.turn('joint', { first: first + y });
    if (x) this.turn('joint', { second: second + x * bone.right });
  }

  reset() {
    if (!this.shown) return;
    this.pose.reset();
    this.changed();
  }

  jointRest() {
    return this.shown.one.character.nodes[this.shown.info.joint].worldRotation;
  }

  // swing is what turns of the skin are counted from, in the world: the shortest way the
  // bone has been bent or, where the tip's twist is ramped, all that the joint does.
  swing() {
    const { joint } = this.pose.units;
    const rest = this.jointRest();
    const local = [0, 0, 0, 1];
    if (this.shown.limb.twist === 'tip') multiply(local, joint, local);
    else {
      const twist = twistAngle(joint, this.pose.limb.axis);
      multiply(local, joint, fromVector([0, 0, 0, 1], this.pose.limb.axis.map((x) => -twist * x)));
    }
    return multiply(local, multiply(local, rest, local), conjugate([0, 0, 0, 1], rest));
  }

  changed() {
    this.stale = true;
    this.draw();
  }

  draw() {
    if (this.wanted || !this.solver) return;
    this.wanted = true;
    requestAnimationFrame(() => {
      this.wanted = false;
      if (this.solver) this.frame();
    });
  }

  // frame solves, skins, measures and paints where something has changed, and draws.
  frame() {
    const settings = this.good; // the form may be ahead, while something is split
    if (this.stale) {
      const begun = performance.now();
      this.#solve(settings);
      this.#tell(settings);
      this.frames.add(performance.now() - begun);
      this.stale = false;
    }
    this.view.draw();
    this.handles.draw(this.view, this.#placeHandles());
  }

  #solve(settings) {
    const { one, split } = this.shown;
    const { joint, tip } = this.pose.units;
    const from = this.swing();
    this.solver.solve(this.pose.rotations.joint, this.pose.rotations.tip);
    one.pose(joint, tip, null, settings.skinning, from);
    if (settings.segments > 1) split.pose(joint, tip, this.solver.segments, settings.skinning, from);
    for (const figure of [one, split]) {
      figure.colour(settings.colour);
      figure.rim(dark.matches ? 0.6 : 0.35);
    }
    this.sliders.show(this.pose.angles);
  }

  // #tell draws the curves and writes the numbers.
  #tell({ segments }) {
    const { one, split } = this.shown;
    const parts = segments > 1 ? split : null;
    this.along.show(one, parts, this.solver, this.base());
    this.readout.show(one, parts, segments, () => this.along.describe());
  }

  // base is the twist that the segments' own comes on top of, in radians.
  base() {
    return this.shown.limb.twist === 'tip' ? 0 : twistAngle(this.pose.units.joint, this.pose.limb.axis);
  }

  #placeHandles() {
    const { limb, ends, bone, one } = this.shown;
    const length = Math.hypot(...ends.end.map((x, k) => x - ends.root[k]));
    const round = one.sections.cuts[20].radius || 0.2 * length;
    const twist = (this.pose.angles[limb.twist === 'tip' ? 'tip' : 'joint'].twist * Math.PI) / 180;
    return placeHandles(ends, this.swing(), twist, 1.5 * round, bone.ahead);
  }

  // #work shows that something takes its time, and what went wrong; it says whether it
  // went well.
  async #work(what, doing) {
    this.working = (this.working ?? 0) + 1;
    this.busy.textContent = what;
    this.root.setAttribute('aria-busy', 'true');
    try {
      await doing();
      this.alert.textContent = '';
      return true;
    } catch (error) {
      this.alert.textContent = String(error?.message ?? error).split('\n')[0];
      return false;
    } finally {
      if (--this.working === 0) {
        this.busy.textContent = '';
        this.root.setAttribute('aria-busy', 'false');
      }
    }
  }
}
