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

  async update(name, limbs, settings) {
    const asked = ++this.asked;
    this.command.textContent = `pronate split ${quoted(name)} --limbs limbs.yaml -o ${quoted(`${stem(name)}-split.glb`)}`;
    const possible = settings.segments > 1;
    const text = possible ? await this.splitter.limbFile(limbs.map((limb) => specified(limb, settings))) : '';
    if (asked !== this.asked) return; // somebody was faster
    this.text = text;
    this.button.disabled = !possible;
    this.preview.textContent = text || 'One joint is what the character has already.';
    this.why.textContent = possible ? '' : 'Choose 2 or more segments first.';
  }

  #take() {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([this.text], { type: 'text/yaml' }));
    link.download = 'limbs.yaml';
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }
}

// specified is a detected limb with the page's settings.
export function specified(limb, { segments, ramp, field }) {
  const { name, joint, end, tip, twist, range, centre, anchor } = limb;
  const out = { name, joint, end, tip, twist, segments: Math.max(segments, 2), shares: ramp, anchor, centre, range, field: '' };
  if (hasRange(limb)) out.field = field;
  return out;
}

export const hasRange = (limb) => limb.twist !== 'tip' && Boolean(limb.range) && limb.range !== 'none';
