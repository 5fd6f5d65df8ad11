// window.pronatePage: the tests' door. Rotations are x, y, z, w; what goes in is used
// as it is, and what comes out is what was solved, to the last bit.
import { Solver } from './solver.js';

export function openDoor(page) {
  const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  return {
    // state is what the page shows.
    state() {
      const { model, picture } = page;
      const { one, split, limb } = picture.shown;
      const settings = { ...page.good };
      const loss = (figure) => ({
        narrowest: figure.sections.narrowest, squeezed_m2: figure.squeeze.area, worst: figure.squeeze.worst,
        radius: Array.from(figure.sections.radius), turn: Array.from(figure.sections.turn), moved: figure.skin.vertices.length,
      });
      return {
        character: model.name, limbs: model.limbs.map(({ name }) => name), limb: limb.name, settings,
        specification: picture.solver.specification, angles: structuredClone(picture.pose.angles),
        joint: Array.from(picture.pose.rotations.joint), tip: Array.from(picture.pose.rotations.tip),
        segments: Array.from({ length: picture.solver.info.segments }, (_, i) => Array.from(picture.solver.segments.subarray(4 * i, 4 * i + 4))),
        twists_deg: Array.from(picture.along.solved), one: loss(one), split: settings.segments > 1 ? loss(split) : null,
        frames: page.picture.frames.summary, limb_file: page.limbFile.text,
      };
    },
    // set changes settings by their names in the form, and the joint's and the tip's
    // rotation; it ends when that is drawn.
    async set({ joint, tip, ...settings }) {
      const names = Object.keys(settings).sort((a, b) => (b === 'limb') - (a === 'limb')); // first, for it has settings of its own
      for (const name of names) {
        page.settings.set({ [name]: settings[name] });
        await page.choose(name);
      }
      if (page.work.alert.textContent) throw new Error(page.work.alert.textContent);
      if (joint) page.picture.pose.set('joint', joint);
      if (tip) page.picture.pose.set('tip', tip);
      page.picture.changed();
      await drawn();
      return this.state();
    },
    // solve makes a limb of any specification in the page's solver, and solves once.
    solve(specification, joint, tip = [0, 0, 0, 1]) {
      const solver = new Solver(specification);
      solver.solve(joint, tip);
      const { segments } = solver;
      solver.free();
      return Array.from({ length: segments.length / 4 }, (_, i) => Array.from(segments.subarray(4 * i, 4 * i + 4)));
    },
    // handles are where the limb is taken by, in the picture's pixels.
    handles: () => page.picture.handles.drawn.filter((drawn) => !drawn.group.hasAttribute('hidden')).map(({ knobAt, ring }) => ({ knob: knobAt, ring })),
  };
}
