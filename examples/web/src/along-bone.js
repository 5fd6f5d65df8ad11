// The two curves along the bone: how far the skin has turned, with the segments as
// solved, and what is left of the radius.
import { Chart } from './curves.js';

const degrees = 180 / Math.PI;

export class AlongBone {
  constructor(twists, radii) {
    this.twists = new Chart(twists, { unit: '°', label: 'How far the skin has turned', ends: ['', ''] });
    this.radii = new Chart(radii, { unit: ' %', label: 'What is left of the radius', ends: ['', ''] });
    this.solved = []; // twists of the segments, in degrees
  }

  named({ joint, end }) {
    for (const chart of [this.twists, this.radii]) chart.named([joint, Array.isArray(end) ? 'end' : end]);
  }

  // show draws one joint and segments, or null. base is the twist that the solved ones
  // come on top of, in radians; handed is the bone's.
  show(one, split, solver, base, handed) {
    this.shown = { one, split };
    this.solved = split ? Array.from({ length: solver.info.segments }, (_, i) => degrees * (base + handed * solver.twist(i))) : [];
    const both = (of) => [...of(one), ...(split ? of(split) : [])];
    this.twists.scale(...reach([...both(({ sections }) => sections.turn.map((x) => degrees * x)), ...this.solved], 30, 0, 60));
    this.twists.line('one', one.sections.turn, degrees);
    this.twists.line('split', split?.sections.turn, degrees);
    this.twists.points(this.solved.length, (i) => this.solved[i]);
    this.radii.scale(...reach(both(({ sections }) => sections.radius.map((x) => 100 * x)), 10, 80, 105));
    this.radii.line('one', one.sections.radius, 100);
    this.radii.line('split', split?.sections.radius, 100);
  }

  // describe puts the curves into words.
  describe() {
    const { one, split } = this.shown;
    const ends = (values, factor, unit) => {
      const some = [...values].filter((v) => !Number.isNaN(v)).map((v) => Math.round(factor * v));
      return some.length ? `${some[0]} to ${some.at(-1)} ${unit}, ${Math.min(...some)} at least, ${Math.max(...some)} at most` : 'not measured';
    };
    const say = (chart, what, of, factor, unit, more) =>
      chart.describe(`${what}. One joint: ${ends(of(one), factor, unit)}.${split ? ` Segments: ${ends(of(split), factor, unit)}.${more}` : ''}`);
    say(this.twists, 'How far the skin has turned, from root to end', (f) => f.sections.turn, degrees, 'degrees', ` As solved: ${this.solved.map(Math.round).join(', ')} degrees.`);
    say(this.radii, 'What is left of the radius, from root to end', (f) => f.sections.radius, 100, 'per cent', '');
  }
}

// reach is from where to where a chart goes to show the values, in whole steps, at
// least from low to high.
function reach(values, step, low, high) {
  const some = values.filter((v) => !Number.isNaN(v));
  const [from, to] = [Math.min(low, ...some), Math.max(high, ...some)];
  const wide = (to - from) / step > 7 ? 2 * step : step;
  const little = wide / 6; // what may hang over, rather than another line
  return [Math.floor((from + little) / wide) * wide, Math.ceil((to - little) / wide) * wide, wide];
}
