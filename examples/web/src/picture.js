// The limb as it is turned, and the frame that shows it.
import { AlongBone } from './along-bone.js';
import { Drag } from './drag.js';
import { Frames } from './frames.js';
import { Handles, placeHandles } from './handles.js';
import { takeKeys } from './keys.js';
import { Pose } from './pose.js';
import { Readout } from './readout.js';
import { twistAngle } from './rotation.js';
import { Sliders } from './sliders.js';
import { swingOf } from './swing.js';
import { Turns } from './turns.js';
import { View } from './view.js';
import { countOf } from './words.js';

const dark = matchMedia('(prefers-color-scheme: dark)');

export class Picture {
  constructor(root) {
    const find = (selector) => root.querySelector(selector);
    this.frames = new Frames();
    this.stage = find('#stage');
    this.view = new View(this.stage, find('canvas'));
    this.handles = new Handles(find('#handles'));
    this.sliders = new Sliders(find('#sliders'), (what, angles) => this.turn(what, angles));
    this.readout = new Readout(root);
    this.along = new AlongBone(find('#twists'), find('#radii'));
    this.labels = find('#labels');
    this.shown = null; // what model.js made
    this.solver = null;
    this.settings = null; // that hold for what is shown; the form may be ahead
    this.pose = null;
    this.poses = new Map(); // of the limbs that have been turned
    this.wanted = false; // a frame
    new Drag(this.view, this.handles, new Turns(this));
    takeKeys(this.stage, { turn: (x, y, twist) => this.nudge(x, y, twist), reset: () => this.reset(), look: (by, factor) => this.view.turn(by, factor) });
    this.view.addEventListener('look', () => this.draw());
    find('#reset').addEventListener('click', () => this.reset());
    for (const button of root.querySelectorAll('[data-look]')) button.addEventListener('click', () => this.look(button.dataset.look));
    dark.addEventListener('change', () => this.changed());
  }

  // forget lets go of how the limbs were turned, before another character is shown.
  forget() {
    this.poses.clear();
  }

  // show takes a limb of a character, with the solver for it.
  show(name, shown, solver, settings) {
    const another = shown.limb !== this.shown?.limb;
    this.solver?.free();
    Object.assign(this, { shown, solver });
    if (another) this.#another(name);
    this.set(settings);
  }

  // set follows settings that need no other split and no other solver.
  set(settings) {
    this.settings = settings;
    this.#arrange();
    this.changed();
  }

  #another(name) {
    const { limb, bone: directions } = this.shown;
    if (!this.poses.has(limb.joint)) this.poses.set(limb.joint, new Pose(directions));
    this.pose = this.poses.get(limb.joint);
    this.sliders.make(directions, limb);
    this.stage.setAttribute('aria-label', `${limb.name} of ${name}. Arrow keys bend it, Shift with left and right twists it, Home takes it back to rest, comma and full stop turn the view, plus and minus bring it nearer.`);
    this.along.named(limb);
    this.look('limb');
  }

  // #arrange puts one figure or two beside each other.
  #arrange() {
    const { segments, compare } = this.settings;
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
    if (twist) {
      const what = limb.twist === 'tip' ? 'tip' : 'joint';
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

  swing() {
    return swingOf(this.pose.units.joint, this.pose.limb.axis, this.shown.rest, this.shown.limb.twist === 'tip');
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
      this.#frame();
    });
  }

  // #frame solves, skins, measures and paints where something has changed, and draws.
  #frame() {
    if (this.stale) {
      const begun = performance.now();
      this.#solve();
      this.#tell();
      this.frames.add(performance.now() - begun);
      this.stale = false;
    }
    this.view.draw();
    this.handles.draw(this.view, this.#placeHandles());
  }

  #solve() {
    const { one, split, leaves } = this.shown;
    const { segments, skinning, colour } = this.settings;
    const { joint, tip } = this.pose.units;
    const from = this.swing();
    this.solver.solve(this.pose.rotations.joint, this.pose.rotations.tip);
    one.pose(joint, tip, null, skinning, from);
    if (segments > 1) split.pose(joint, tip, leaves.turn(this.solver.segments), skinning, from);
    for (const figure of [one, split]) {
      figure.colour(colour);
      figure.rim(dark.matches ? 0.6 : 0.35);
    }
    this.sliders.show(this.pose.angles);
  }

  // #tell draws the curves and writes the numbers.
  #tell() {
    const { one, split, limb, bone } = this.shown;
    const { segments } = this.settings;
    const parts = segments > 1 ? split : null;
    const base = limb.twist === 'tip' ? 0 : twistAngle(this.pose.units.joint, this.pose.limb.axis);
    this.along.show(one, parts, this.solver, base, bone.handed);
    this.readout.show(one, parts, segments, () => this.along.describe());
  }

  #placeHandles() {
    const { limb, ends, bone, one } = this.shown;
    const length = Math.hypot(...ends.end.map((x, k) => x - ends.root[k]));
    const round = one.sections.cuts[20].radius || 0.2 * length;
    const twist = (this.pose.angles[limb.twist === 'tip' ? 'tip' : 'joint'].twist * Math.PI) / 180;
    return placeHandles(ends, this.swing(), twist, 1.5 * round, bone.ahead);
  }
}
