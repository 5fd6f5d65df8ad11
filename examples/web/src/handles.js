// What the limb is taken by: a dot at its end to bend it, and a ring around it to twist
// it. Drawn as a line drawing over the picture.
import { cross, rotate, unit } from './rotation.js';

const svg = 'http://www.w3.org/2000/svg';
const points = 48;

export class Handles {
  constructor(layer) {
    this.layer = layer;
    this.drawn = [];
  }

  // place says where they are: the bone's root and end now, the ring's centre and
  // radius, how the limb has turned, and which way is across the bone.
  draw(view, place) {
    const panels = view.panels();
    while (this.drawn.length < panels.length) this.drawn.push(this.#make());
    this.drawn.forEach((handles, i) => handles.group.toggleAttribute('hidden', i >= panels.length || !place));
    if (!place) return;
    panels.forEach((panel, i) => this.#draw(this.drawn[i], view, panel, place));
  }

  #make() {
    const group = this.layer.appendChild(document.createElementNS(svg, 'g'));
    const add = (name, kind) => {
      const element = group.appendChild(document.createElementNS(svg, name));
      element.setAttribute('class', kind);
      return element;
    };
    return { group, back: add('path', 'ring back'), bone: add('path', 'bone'), front: add('path', 'ring front'), mark: add('circle', 'mark'), knob: add('circle', 'knob') };
  }

  #draw(handles, view, panel, place) {
    const root = view.project(place.root, panel), end = view.project(place.end, panel);
    handles.panel = panel;
    handles.knobAt = end;
    handles.bone.setAttribute('d', `M${at(root)}L${at(end)}`);
    handles.knob.setAttribute('cx', end.x);
    handles.knob.setAttribute('cy', end.y);
    handles.knob.setAttribute('r', 9);
    handles.ring = Array.from({ length: points }, (_, k) => view.project(onRing(place, (2 * Math.PI * k) / points), panel));
    const middle = view.project(place.ring, panel).z;
    for (const [path, isBack] of [[handles.front, false], [handles.back, true]]) {
      let d = '';
      for (let k = 0; k < points; k++) {
        const [a, b] = [handles.ring[k], handles.ring[(k + 1) % points]];
        if ((a.z + b.z) / 2 > middle === isBack) d += `M${at(a)}L${at(b)}`;
      }
      path.setAttribute('d', d);
    }
    const mark = view.project(onRing(place, place.twist), panel);
    handles.mark.setAttribute('cx', mark.x);
    handles.mark.setAttribute('cy', mark.y);
    handles.mark.setAttribute('r', 5);
    handles.mark.setAttribute('class', mark.z > middle ? 'mark back' : 'mark');
  }

  // at says which handle a point of the stage is on, within so many pixels, and the
  // panel.
  at(x, y, reach) {
    for (const { panel, knobAt, ring, group } of this.drawn) {
      if (!panel || group.hasAttribute('hidden') || x < panel.left || x > panel.left + panel.width) continue;
      if (Math.hypot(x - knobAt.x, y - knobAt.y) <= reach) return { kind: 'knob', panel };
      const away = ring.map((p) => Math.hypot(x - p.x, y - p.y));
      const nearest = away.indexOf(Math.min(...away));
      if (away[nearest] <= reach) return { kind: 'ring', panel, ring, nearest };
    }
    return null;
  }
}

const at = ({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`;

// onRing is a place on the ring at an angle from the side that faces ahead.
export function onRing({ ring, radius, along, ahead }, angle) {
  const side = cross(along, ahead);
  const [c, s] = [radius * Math.cos(angle), radius * Math.sin(angle)];
  return ring.map((x, k) => x + c * ahead[k] + s * side[k]);
}

// placeHandles finds all that for a limb whose bone, in the world, was at rest and has
// been swung.
export function placeHandles({ root, end }, swing, twist, radius, ahead) {
  const bone = rotate([0, 0, 0], swing, end.map((x, k) => x - root[k]));
  return {
    root,
    end: root.map((x, k) => x + bone[k]),
    ring: root.map((x, k) => x + 0.62 * bone[k]),
    along: unit(bone),
    ahead: rotate([0, 0, 0], swing, ahead),
    radius,
    twist,
  };
}
