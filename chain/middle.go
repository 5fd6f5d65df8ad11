package chain

import (
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// Middle is the direction from which the farthest direction of the range is
// nearest: the centre of the smallest cap that holds it, to 1e-6 radians. A
// swing by way of it has the lowest worst roll, tan(radius/2), that one centre
// can give.
//
// A range is its own mirror image in the plane of its middle flexion and Out, and
// there the direction is: elsewhere the farther one of the range's two ends of
// flexion would be farther still. Where abductions are as far to either side, and
// two directions serve, it is the one on the side of Out.
func (r Range) Middle() r3.Vec {
	flexion := float64((r.Flexion[0] + r.Flexion[1]) / 2)
	// In whole degrees from the middle flexion to Out and on, and so round, then
	// by thirds. What is level with the best does not replace it: a symmetric
	// range's middle stays where the symmetry is.
	const level = 1e-9 // cosines: a shoulder's pole serves as well as its middle flexion, but for rounding
	best, worst := 0., r.farthest(0)
	try := func(at, better float64) bool {
		w := r.farthest(at)
		if w > worst+better {
			best, worst = at, w
			return true
		}
		return false
	}
	for i := 1.; i <= 180; i++ {
		try(i*degree, level)
		try(-i*degree, level)
	}
	for step := degree / 2; step > 1e-6; {
		if !try(best+step, 0) && !try(best-step, 0) {
			step /= 2
		}
	}
	sinF, cosF := steady.Sincos(flexion)
	sin, cos := steady.Sincos(best)
	return steady.Along(cos*cosF, r.Down, cos*sinF, r.Forward, sin, r.Out)
}

// farthest is the cosine of the angle from a direction to the farthest of the
// range. The direction lies in the plane of the middle flexion and Out, at this
// angle from the first.
//
// To the direction at abduction b and at δ from the middle flexion the cosine
// is cos(at) cos δ cos b + sin(at) sin b.
func (r Range) farthest(at float64) float64 {
	out, along := steady.Sincos(at)
	if along > 0 {
		_, end := steady.Sincos((r.Flexion[1] - r.Flexion[0]) / 2)
		along *= end
	}
	if b := steady.Atan2(-out, -along); b >= r.Abduction[0] && b <= r.Abduction[1] {
		return -steady.Hypot(along, out)
	}
	least := 1.
	for _, b := range r.Abduction {
		sin, cos := steady.Sincos(b)
		least = min(least, float64(along*cos)+float64(out*sin))
	}
	return least
}
