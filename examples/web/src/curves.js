// Two small charts along the bone: how far the skin has turned, and what is left of the
// limb's radius; one joint against segments.
const svg = 'http://www.w3.org/2000/svg';
const [width, height] = [420, 190];
const box = { left: 46, right: width - 10, top: 10, bottom: height - 34 };

export class Chart {
  // unit is written behind the numbers; label is what the chart shows.
  constructor(holder, { unit, label, ends }) {
    this.unit = unit;
    this.picture = add(holder, 'svg', { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': label });
    this.grid = add(this.picture, 'g', {});
    add(this.picture, 'path', { class: 'axis', d: `M${box.left} ${box.bottom}H${box.right}` });
    this.ends = [add(this.picture, 'text', { x: box.left, y: height - 14 }), add(this.picture, 'text', { x: box.right, y: height - 14, 'text-anchor': 'end' })];
    this.middle = add(this.picture, 'text', { x: (box.left + box.right) / 2, y: height - 14, 'text-anchor': 'middle' });
    this.middle.textContent = 'along the bone';
    this.lines = { one: add(this.picture, 'path', { class: 'curve one' }), split: add(this.picture, 'path', { class: 'curve split' }) };
    this.dots = add(this.picture, 'g', { class: 'dots' });
    this.named(ends);
  }

  named([from, to]) {
    this.ends[0].textContent = from;
    this.ends[1].textContent = to;
  }

  // scale is what the chart reaches from and to, and the step of its lines.
  scale(from, to, step) {
    const key = `${from} ${to} ${step}`;
    if (key === this.scaled) return;
    this.scaled = key;
    this.from = from;
    this.to = to;
    this.grid.replaceChildren();
    for (let v = from; v <= to + step / 2; v += step) {
      add(this.grid, 'path', { class: v === 0 ? 'axis' : 'line', d: `M${box.left} ${this.#y(v)}H${box.right}` });
      add(this.grid, 'text', { x: box.left - 6, y: this.#y(v) + 4, 'text-anchor': 'end' }).textContent = `${Math.round(v)}${this.unit}`;
    }
  }

  #y = (v) => (box.bottom - ((v - this.from) / (this.to - this.from)) * (box.bottom - box.top)).toFixed(1);
  #x = (t) => (box.left + t * (box.right - box.left)).toFixed(1);

  // line draws values that are evenly spaced along the bone, times a factor. Places that
  // were not measured are left out.
  line(which, values, factor) {
    let d = '', pen = 'M';
    for (let i = 0; values && i < values.length; i++) {
      const v = factor * values[i];
      if (Number.isNaN(v)) {
        pen = 'M';
        continue;
      }
      d += `${pen}${this.#x(i / (values.length - 1))} ${this.#y(v)}`;
      pen = 'L';
    }
    this.lines[which].setAttribute('d', d);
  }

  // points draws dots, evenly from end to end: weights give the first segment the skin
  // at the root and the last one that at the end.
  points(count, value) {
    while (this.dots.childElementCount < count) add(this.dots, 'circle', { r: 3.5 });
    while (this.dots.childElementCount > count) this.dots.lastChild.remove();
    for (let i = 0; i < count; i++) {
      const dot = this.dots.children[i];
      dot.setAttribute('cx', this.#x(i / (count - 1)));
      dot.setAttribute('cy', this.#y(value(i)));
    }
  }

  describe(text) {
    this.picture.setAttribute('aria-label', text);
  }
}

function add(to, name, attributes) {
  const element = to.appendChild(document.createElementNS(svg, name));
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
