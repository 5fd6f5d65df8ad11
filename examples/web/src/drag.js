// Turning the limb by hand: the dot or the skin is dragged to bend it, the ring, or the
// skin with Shift, to twist it. Whatever else is dragged turns the view.
import { arc, unit } from './rotation.js';

const reach = { mouse: 14, pen: 18, touch: 26 }; // pixels

export class Drag {
  // turns: what the limb is asked and told; see turns.js
  constructor(view, handles, turns) {
    this.view = view;
    this.handles = handles;
    this.turns = turns;
    this.held = null;
    this.fingers = new Set();
    const { stage } = view;
    stage.addEventListener('pointerdown', (event) => this.#down(event), { capture: true });
    stage.addEventListener('pointermove', (event) => this.#move(event), { capture: true });
    for (const kind of ['pointerup', 'pointercancel']) {
      stage.addEventListener(kind, (event) => this.#up(event), { capture: true });
    }
  }

  #at(event) {
    const box = this.view.stage.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    return { x, y, panel: this.view.panels().find((p) => x >= p.left && x < p.left + p.width) };
  }

  #down(event) {
    this.fingers.add(event.pointerId);
    if (this.held) return event.stopImmediatePropagation(); // one hand at a time
    if (this.fingers.size > 1 || event.button !== 0) return;
    const { x, y, panel } = this.#at(event);
    if (!panel) return;
    const held = this.#grab(x, y, panel, reach[event.pointerType] ?? reach.mouse, event.shiftKey);
    if (!held) return;
    this.held = { ...held, x, y, panel, pointer: event.pointerId };
    this.view.stage.setPointerCapture(event.pointerId);
    this.view.stage.dataset.held = held.kind;
    this.turns.begin();
    event.stopImmediatePropagation(); // the view stays
  }

  #grab(x, y, panel, near, shift) {
    const handle = this.handles.at(x, y, near);
    if (handle?.kind === 'ring') return this.#byRing(handle);
    const hit = handle ? null : this.view.hit(x, y, panel);
    const what = handle ? 'joint' : hit && this.turns.partAt(panel.figure, hit.face.a);
    if (!what) return null;
    if (shift) return this.#byRing(this.#nearestOnRing(x, y, panel));
    const place = handle ? this.turns.end() : hit.point.toArray();
    const root = this.turns.rootOf(what);
    const arm = place.map((v, k) => v - root[k]);
    return { kind: 'bend', what, root, from: unit(arm), last: unit(arm), length: Math.hypot(...arm) };
  }

  #nearestOnRing(x, y, panel) {
    const { ring } = this.handles.drawn.find((drawn) => drawn.panel?.left === panel.left);
    const middle = ring.reduce((sum, p) => sum + p.z, 0) / ring.length;
    const away = ring.map((p) => (p.z > middle ? Infinity : Math.hypot(x - p.x, y - p.y))); // in front
    return { ring, nearest: away.indexOf(Math.min(...away)) };
  }

  // #byRing takes the way along the ring where it was taken, in pixels a radian.
  #byRing({ ring, nearest }) {
    const n = ring.length, [a, b] = [ring[(nearest + n - 1) % n], ring[(nearest + 1) % n]];
    const step = (4 * Math.PI) / n;
    const way = [(b.x - a.x) / step, (b.y - a.y) / step];
    const size = Math.hypot(...way) || 1;
    const most = Math.max(...ring.map((p, k) => Math.hypot(p.x - ring[(k + n / 2) % n].x, p.y - ring[(k + n / 2) % n].y))) / 2;
    return { kind: 'twist', way: way.map((v) => v / size), pixels: Math.max(size, most / 2, 20) };
  }

  #move(event) {
    const { held } = this;
    if (!held) return this.#hover(event);
    if (event.pointerId !== held.pointer) return;
    event.stopImmediatePropagation();
    const { x, y } = this.#at(event);
    if (held.kind === 'twist') {
      this.turns.twist(((x - held.x) * held.way[0] + (y - held.y) * held.way[1]) / held.pixels);
      return;
    }
    held.last = this.#towards(x, y, held);
    this.turns.bend(held.what, arc([0, 0, 0, 1], held.from, held.last));
  }

  // #towards is the direction from the root to where the line of sight meets the sphere
  // that the grabbed place moves on, or to where it passes nearest.
  #towards(x, y, { root, last, length, panel }) {
    const { origin, direction } = this.view.ray(x, y, panel);
    const from = origin.toArray(), way = direction.toArray();
    const to = root.map((v, k) => v - from[k]);
    const nearest = to.reduce((sum, v, k) => sum + v * way[k], 0);
    const foot = from.map((v, k) => v + nearest * way[k] - root[k]);
    const inside = length * length - foot.reduce((sum, v) => sum + v * v, 0);
    const half = Math.sqrt(Math.max(inside, 0));
    const candidates = [-half, half].map((t) => unit(foot.map((v, k) => v + t * way[k])));
    const closeness = candidates.map((c) => c.reduce((sum, v, k) => sum + v * last[k], 0));
    return closeness[0] >= closeness[1] ? candidates[0] : candidates[1];
  }

  #hover(event) {
    if (event.pointerType !== 'mouse' || event.buttons) return;
    const { x, y } = this.#at(event);
    this.view.stage.dataset.over = this.handles.at(x, y, reach.mouse)?.kind ?? '';
  }

  #up(event) {
    this.fingers.delete(event.pointerId);
    if (this.held?.pointer !== event.pointerId) return;
    event.stopImmediatePropagation();
    this.held = null;
    delete this.view.stage.dataset.held;
  }
}
