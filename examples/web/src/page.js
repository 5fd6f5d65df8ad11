// The page: what is chosen, and what is made of it.
import { LimbFile } from './limb-file.js';
import { Model } from './model.js';
import { Picture } from './picture.js';
import { Settings } from './settings.js';
import { showWarnings } from './warnings.js';
import { countOf } from './words.js';
import { Work } from './work.js';

// What the splitter and the solver are asked for; the rest of the settings are the
// picture's.
const split = ['limb', 'segments', 'ramp'];
const solved = [...split, 'field'];

export class Page {
  constructor(root, splitter) {
    this.splitter = splitter;
    this.work = new Work(root);
    this.settings = new Settings(root.querySelector('#settings'), (name) => this.choose(name));
    this.picture = new Picture(root);
    this.limbFile = new LimbFile(root, splitter);
    this.warnings = root.querySelector('#warnings');
    this.good = null; // the settings that hold for what is shown
    this.asked = 0; // how often something has been asked of the splitter
  }

  // take shows another character and says whether it could be read. Where not the one
  // before stays. read promises its bytes.
  take(name, read) {
    return this.work.do(`Reading ${name} and looking for limbs …`, async () => {
      const model = await Model.read(this.splitter, name, await bytesOf(name, read));
      try {
        await this.#show(model, { ...this.settings.values, limb: model.first, ...model.own[model.first] });
      } catch (error) {
        if (model !== this.model) model.dispose();
        throw error;
      }
    });
  }

  // choose follows a change of one setting. Where it cannot be made they all go back,
  // unless something else has been asked for since.
  async choose(name) {
    if (!this.model) return;
    let settings = this.settings.values;
    if (name === 'limb') { // which has settings of its own
      settings = { ...settings, ...this.model.own[settings.limb] };
      this.settings.set(settings);
    }
    if (!solved.includes(name)) { // which leaves what is being split alone
      this.good = { ...this.good, [name]: settings[name] };
      this.picture.set(this.good);
      return;
    }
    const what = split.includes(name) ? `Splitting into ${countOf(settings.segments)} …` : '';
    const asked = this.asked + 1;
    const well = await this.work.do(what, () => this.#show(this.model, settings));
    if (!well && asked === this.asked) this.settings.set(this.good);
  }

  async #show(model, settings) {
    const asked = ++this.asked;
    const another = model !== this.model;
    const shown = await model.shown(settings);
    const solver = model.solver(shown, settings.field);
    if (!another && (asked !== this.asked || model !== this.model)) return solver.free(); // something else was chosen meanwhile
    // What is no matter of the split may have been changed while it was made.
    const good = { ...(this.good ?? settings) };
    for (const name of solved) good[name] = settings[name];
    this.good = good;
    model.keep(good);
    if (another) this.#welcome(model);
    this.settings.allow(shown.limb, good.segments);
    this.picture.show(model.name, shown, solver, good);
    showWarnings(this.warnings, shown.warnings);
    await this.limbFile.update(model.name, model.limbs, model.own);
  }

  #welcome(model) {
    this.model?.dispose();
    this.model = model;
    this.picture.forget();
    this.settings.limbs(model.limbs);
    this.settings.set(this.good); // whatever else was chosen meanwhile
  }
}

async function bytesOf(name, read) {
  try {
    return new Uint8Array(await read());
  } catch (error) {
    throw new Error(`${name}: cannot be read (${String(error?.message ?? error).replace(/\.$/, '')}), expected a .glb file`);
  }
}
