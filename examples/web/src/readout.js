// What is lost, in numbers: beside the picture at once, and for screen readers a
// sentence when the limb has come to rest.
import { limit } from './squeeze.js';
import { countOf, percent, areaOf } from './words.js';

const rest = 700; // milliseconds

export class Readout {
  constructor(root) {
    this.table = root.querySelector('#numbers');
    this.spoken = root.querySelector('#spoken');
    this.cells = new Map([...this.table.querySelectorAll('[data-n]')].map((cell) => [cell.dataset.n, cell]));
    this.timer = 0;
  }

  // show takes what one joint and what segments lose; split is null where
  // there is but one joint. atRest is called when the limb has come to rest.
  show(one, split, segments, atRest) {
    this.#set('one-radius', percentOr(one.sections.narrowest));
    this.#set('one-area', areaOf(one.squeeze.area));
    this.#set('split-radius', split ? percentOr(split.sections.narrowest) : '–');
    this.#set('split-area', split ? areaOf(split.squeeze.area) : '–');
    this.#set('split-name', split ? countOf(segments) : 'segments');
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      atRest();
      const says = (figure) => `narrowest ${percentOr(figure.sections.narrowest)}, squeezed skin ${areaOf(figure.squeeze.area)}`;
      const text = `One joint: ${says(one)}. ${split ? `${countOf(segments)}: ${says(split)}.` : ''}`.trim();
      if (text !== this.spoken.textContent) this.spoken.textContent = text;
    }, rest);
  }

  #set(name, text) {
    const cell = this.cells.get(name);
    if (cell.textContent !== text) cell.textContent = text;
  }
}

const percentOr = (part) => (Number.isNaN(part) ? 'no section' : percent(part));

export const creases = percent(limit);
