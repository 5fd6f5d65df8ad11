// What the solver says, as the segments of a character turn. They stand inside their
// joint's own scale and the solver outside it: where that scale is uneven or mirrors, a
// segment turns about another axis, or the other way round. (cmd/pronate/solvelimb.go
// does the like for `pronate solve --local`.)

// What two ways to the unit axis differ by without any such scale: some roundings of
// 2^-53 each.
const sameAxis = 1e-14;

export class Leaves {
  // info is a limb of the splitter's answer.
  constructor({ solver, bone_axis: inside, sense, segments }) {
    const length = Math.hypot(...solver.axis);
    this.outside = solver.axis.map((x) => x / length);
    this.inside = inside;
    this.sense = sense;
    const apart = Math.hypot(...this.outside.map((x, k) => x - inside[k]));
    this.turned = sense === 1 && apart <= sameAxis ? null : new Float64Array(4 * segments.length);
  }

  // turn takes the segments as solved, four numbers each, and returns them as they turn.
  turn(solved) {
    const { turned, inside, outside, sense } = this;
    if (!turned) return solved;
    for (let i = 0; i < turned.length; i += 4) {
      const along = sense * (solved[i] * outside[0] + solved[i + 1] * outside[1] + solved[i + 2] * outside[2]);
      for (let k = 0; k < 3; k++) turned[i + k] = along * inside[k];
      turned[i + 3] = solved[i + 3];
    }
    return turned;
  }
}
