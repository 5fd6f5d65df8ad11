// The limb file: what `pronate split` needs to split the character like this.
import { quoted, stem } from './words.js';

export class LimbFile {
  // page: {name, limbs} now, and the settings that go into it; text is empty while
  // there is none.
  constructor(root, splitter) {
    this.splitter = splitter;
    this.text = '';
    this.asked = 0;
    this.preview = root.querySelector('#limb-file');
    this.command = root.querySelector('#command');
    this.button = root.querySelector('#take');
    this.why = root.querySelector('#take-why');
    this.button.addEventListener('click', () => this.#take());
  }

  // update writes the limbs of a character by the settings of each; those of one joint
  // are left out, for they stay as they are.
  async update(name, limbs, settings) {
    const asked = ++this.asked;
    this.command.textContent = `pronate split ${quoted(name)} --limbs limbs.yaml -o ${quoted(`${stem(name)}-split.glb`)}`;
    const possible = settings.some(isSplit);
    const split = limbs.flatMap((limb, i) => (isSplit(settings[i]) ? [specified(limb, settings[i])] : []));
    const text = possible ? await this.splitter.limbFile(split) : '';
    if (asked !== this.asked) return; // somebody was faster
    this.text = text;
    this.button.disabled = !possible;
    this.preview.textContent = text || 'No limb is split.';
    this.why.textContent = possible ? '' : 'Choose 2 or more segments for some limb first.';
  }

  #take() {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([this.text], { type: 'text/yaml' }));
    link.download = 'limbs.yaml';
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }
}

// ownSettings are the settings that a limb begins with, as `pronate split` decides: one
// joint where it leaves the limb as it is.
export function ownSettings({ is_split: split, segments, shares, field }) {
  return { segments: split ? segments : 1, ramp: shares, field: field || 'shortest' };
}

export const isSplit = ({ segments }) => segments > 1;

// specified is a detected limb with the page's settings.
export function specified(limb, { segments, ramp, field }) {
  const { name, joint, end, tip, twist, range, centre, anchor, exclude, rigid } = limb;
  const out = { name, joint, end, tip, twist, segments, shares: ramp, anchor, centre, range, field: '', exclude, rigid };
  if (hasRange(limb)) out.field = field;
  return out;
}

export const hasRange = (limb) => limb.twist !== 'tip' && Boolean(limb.range) && limb.range !== 'none';
