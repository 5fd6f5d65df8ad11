// The choices of the page, read from the form and written into it.
import { hasRange } from './limb-file.js';

export class Settings {
  constructor(form, change) {
    this.form = form;
    form.addEventListener('change', (event) => event.target.type !== 'range' && event.target.type !== 'file' && change(event.target.name));
    form.addEventListener('submit', (event) => event.preventDefault());
  }

  get values() {
    const { limb, segments, field, ramp, skinning, colour, compare } = this.form.elements;
    return {
      limb: Number(limb.value), segments: Number(segments.value), field: field.value, ramp: ramp.value,
      skinning: skinning.value, colour: colour.checked, compare: compare.checked,
    };
  }

  set(values) {
    for (const [name, value] of Object.entries(values)) {
      const control = this.form.elements[name];
      if (!control) throw new Error(`${name}: no such setting`);
      if (control.type === 'checkbox') control.checked = value;
      else if (Array.from(control, (one) => one.value).includes(String(value))) control.value = String(value);
      else throw new Error(`${name} is ${value}, expected ${Array.from(control, (one) => one.value).join(', ')}`);
    }
  }

  limbs(limbs) {
    this.form.elements.limb.replaceChildren(...limbs.map((limb, i) => new Option(limb.is_split ? limb.name : `${limb.name} (left as it is)`, i)));
  }

  // allow says what was decided about the limb, and why there is nothing to choose, where
  // there is nothing.
  allow(limb, segments) {
    this.form.querySelector('#limb-why').textContent = reasonOf(limb);
    const one = segments === 1 ? 'One joint has none.' : '';
    const tip = limb.twist === 'tip' ? 'Here the twist of what the limb ends in is shared out; the bend is left as it is.' : '';
    const unknown = hasRange(limb) ? '' : 'The joint’s range of motion is not known: it is the shortest arc.';
    this.#enable('fields', one || tip || unknown);
    this.#enable('ramps', one);
    this.form.elements.compare.disabled = Boolean(one);
  }

  #enable(id, why) {
    const group = this.form.querySelector(`#${id}`);
    group.disabled = Boolean(why);
    group.querySelector('.why').textContent = why;
  }
}

// reasonOf says what `pronate split` does with a limb, and why.
function reasonOf({ is_split: split, reason, exclude }) {
  if (!split) return `By default this limb is left as it is: ${reason}. Choose 2 or more segments to split it all the same.`;
  const left = exclude?.pieces?.length ? ` Pieces of the skin that stay as they were: ${exclude.pieces.join(', ')}.` : '';
  return `By default this limb is split: ${reason}.${left}`;
}
