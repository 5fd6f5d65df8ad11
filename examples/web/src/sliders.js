// Sliders in degrees for a limb's angles.
import { mostBend, mostTwist } from './pose.js';

export class Sliders {
  constructor(holder, change) {
    this.holder = holder;
    this.change = change;
    this.rows = [];
  }

  // make builds them anew for a limb: its bone, what the joint and the tip are called,
  // and whether the tip has a say.
  make(bone, limb) {
    this.holder.replaceChildren();
    this.rows = [];
    this.#group('joint', limb.name, bone, limb.twist !== 'tip');
    if (limb.twist === 'tip') this.#group('tip', `what it ends in, ${limb.tip}`, bone, true);
  }

  #group(what, name, bone, ramped) {
    const group = this.holder.appendChild(document.createElement('fieldset'));
    group.appendChild(document.createElement('legend')).textContent = `Turn ${name}`;
    for (const [angle, names] of [['first', bone.names[0]], ['second', bone.names[1]]]) {
      this.#row(group, what, angle, mostBend, `Bend ${names.plus} (below 0: ${names.minus})`);
    }
    this.#row(group, what, 'twist', mostTwist, ramped ? 'Twist, which segments share' : 'Twist, which all of the bone takes');
  }

  #row(group, what, angle, most, label) {
    const id = `${what}-${angle}`;
    const row = group.appendChild(document.createElement('div'));
    row.className = 'slider';
    row.innerHTML = `<label for="${id}"></label><output for="${id}"></output><input type="range" id="${id}" min="${-most}" max="${most}" step="1" value="0">`;
    const [name, output, input] = row.children;
    name.textContent = label;
    input.addEventListener('input', () => this.change(what, { [angle]: input.valueAsNumber }));
    this.rows.push({ what, angle, input, output, shown: NaN });
  }

  // show follows the limb.
  show(angles) {
    for (const row of this.rows) {
      const degrees = Math.round(angles[row.what][row.angle]);
      if (degrees === row.shown) continue;
      row.shown = degrees;
      row.input.value = degrees;
      row.input.setAttribute('aria-valuetext', `${degrees} degrees`);
      row.output.textContent = `${degrees}°`.replace('-', '−');
    }
  }
}
