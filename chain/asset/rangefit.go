package asset

import (
	"math"
	"slices"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// fitMargin is what a fitted range has beyond what its directions take, in degrees.
// Published ranges of one joint differ by 5 to 20 degrees, and clips of one character
// that were not there when the range was fitted differ at least as much.
const fitMargin = 10.

// A fitted range stays away from half a turn of flexion, where its two ends would
// meet, and from the poles of abduction, where flexion is undefined: degrees.
const (
	mostFittedFlexion   = 170.
	mostFittedAbduction = 80.
)

// fitDigits rounds fitted limits to a tenth of a degree: far less than the margin, and
// a left and a right limb that move alike have the same numbers.
const fitDigits = 10.

// Numbers of the fit.
const (
	fitSpacing = 2 * math.Pi / 180 // between the directions that count for the middle and the spread
	fitRounds  = 4                 // of moving the frame to the middle of its limits: each leaves less than a tenth
	fitDefined = 0.1               // least length of a mean direction: below it the directions lie all round
	fitRound   = 0.02              // of the spread: less difference between two ways across is none
)

// fitRange is the range of motion that holds all of the directions, which are unit and
// in the anchor's frame, the one at rest among them. body is the character's down,
// forward and out in that frame. ok is false where the directions lie too far round.
//
// Down is the middle of the limits and Forward the way across it that the directions
// spread most. The middle and the spread are those of directions at least fitSpacing
// apart, so that it does not matter how long a clip stays where it is. Which ones those
// are depends on the order of the directions: the first of those that lie near each
// other is kept. So the order has to be always the same: rest, then the clips in the
// order of the file, each by time.
//
// Of the two signs of a direction the one nearer to the body's is taken, so that a
// mirrored character has the mirrored range, but for rounding.
func fitRange(directions []r3.Vec, body bodyFrame) (r Range, ok bool) {
	apart := spaced(directions)
	down, ok := meanDirection(apart)
	if !ok {
		return Range{}, false
	}
	var frame bodyFrame
	var flexion, abduction [2]float64
	for range fitRounds {
		frame = spreadFrame(apart, down, body)
		flexion, abduction = limitsOf(directions, frame)
		down = frame.direction((flexion[0]+flexion[1])/2, (abduction[0]+abduction[1])/2)
	}
	frame = spreadFrame(apart, down, body)
	flexion, abduction = limitsOf(directions, frame)
	if r.FlexionDeg, ok = widened(flexion, mostFittedFlexion); !ok {
		return Range{}, false
	}
	if r.AbductionDeg, ok = widened(abduction, mostFittedAbduction); !ok {
		return Range{}, false
	}
	r.Frame = frameOf(frame)
	return r, true
}

// bodyFrame is three unit directions at right angles, of either handedness.
type bodyFrame struct{ down, forward, out r3.Vec }

// direction is that of chain.Range.
func (b bodyFrame) direction(flexion, abduction float64) r3.Vec {
	return chain.Range{Down: b.down, Forward: b.forward, Out: b.out}.Direction(flexion, abduction)
}

// spaced keeps of directions that lie near each other the first.
func spaced(directions []r3.Vec) (kept []r3.Vec) {
	_, nearest := steady.Sincos(fitSpacing) // the cosine
	for _, d := range directions {
		if !slices.ContainsFunc(kept, func(k r3.Vec) bool { return steady.Dot(k, d) > nearest }) {
			kept = append(kept, d)
		}
	}
	return kept
}

// meanDirection is not ok where directions lie all round and have no mean.
func meanDirection(directions []r3.Vec) (mean r3.Vec, ok bool) {
	for _, d := range directions {
		mean = r3.Add(mean, d)
	}
	length := math.Sqrt(steady.Norm2(mean))
	if !(length > fitDefined*float64(len(directions))) {
		return r3.Vec{}, false
	}
	return steady.Over(mean, length), true
}

// spreadFrame is the frame that has its forward the way across down in which
// directions spread most.
func spreadFrame(directions []r3.Vec, down r3.Vec, body bodyFrame) bodyFrame {
	// Across down, from whichever of the body's directions is most across it.
	u := steady.Less(body.forward, steady.Dot(body.forward, down), down)
	if steady.Norm2(u) < 0.5 {
		u = steady.Less(body.down, steady.Dot(body.down, down), down)
	}
	u, _ = steady.Unit(u)
	v := steady.Cross(down, u)
	// Second moments of the directions, laid flat about down with their angles.
	var uu, uv, vv float64
	for _, d := range directions {
		x, y, z := steady.Dot(d, u), steady.Dot(d, v), steady.Dot(d, down)
		across := steady.Hypot(x, y)
		if !(across > 0) {
			continue
		}
		flat := steady.Atan2(across, z) / across
		x, y = float64(flat*x), float64(flat*y)
		uu, uv, vv = uu+float64(x*x), uv+float64(x*y), vv+float64(y*y)
	}
	forward := u
	if uneven := steady.Hypot(uu-vv, 2*uv); uneven > fitRound*(uu+vv) {
		sin, cos := steady.Sincos(steady.Atan2(2*uv, uu-vv) / 2)
		forward, _ = steady.Unit(steady.Along(cos, u, sin, v, 0, down))
	}
	forward = alike(forward, body.forward, body.down, body.out)
	out := steady.Cross(down, forward)
	if steady.Dot(steady.Cross(body.down, body.forward), body.out) < 0 {
		out = r3.Scale(-1, out)
	}
	return bodyFrame{down, forward, out}
}

// alike turns v round where it points against the direction it lies along most.
func alike(v r3.Vec, directions ...r3.Vec) r3.Vec {
	along := 0.
	for _, d := range directions {
		if dot := steady.Dot(v, d); math.Abs(dot) > math.Abs(along) {
			along = dot
		}
	}
	if along < 0 {
		return r3.Scale(-1, v)
	}
	return v
}

// limitsOf are the least and the greatest flexion and abduction of directions.
// Flexions, which a whole turn leaves as they are, begin after the widest gap.
func limitsOf(directions []r3.Vec, frame bodyFrame) (flexion, abduction [2]float64) {
	angles := chain.Range{Down: frame.down, Forward: frame.forward, Out: frame.out}
	all := make([]float64, len(directions))
	abduction = [2]float64{math.Inf(1), math.Inf(-1)}
	for i, d := range directions {
		f, a := angles.Angles(d)
		all[i] = f
		abduction[0], abduction[1] = min(abduction[0], a), max(abduction[1], a)
	}
	slices.Sort(all)
	last := len(all) - 1
	widest, begin := all[0]+2*math.Pi-all[last], 0
	for i := 1; i <= last; i++ {
		if gap := all[i] - all[i-1]; gap > widest {
			widest, begin = gap, i
		}
	}
	flexion = [2]float64{all[begin], all[begin] + (2*math.Pi - widest)}
	if middle := (flexion[0] + flexion[1]) / 2; middle > math.Pi { // about 0, not about a turn
		flexion[0], flexion[1] = flexion[0]-2*math.Pi, flexion[1]-2*math.Pi
	}
	return flexion, abduction
}

// widened adds the margin to limits, as far as there is room for it, and turns them
// into degrees. It is not ok where the limits themselves have none.
func widened(limits [2]float64, most float64) (out [2]float64, ok bool) {
	low, high := limits[0]*180/math.Pi, limits[1]*180/math.Pi
	if !(low >= -most && high <= most) {
		return out, false
	}
	low, high = math.Floor((low-fitMargin)*fitDigits+0.5), math.Floor((high+fitMargin)*fitDigits+0.5)
	return [2]float64{max(low/fitDigits, -most), min(high/fitDigits, most)}, true
}
