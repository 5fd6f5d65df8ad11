package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
)

// NearestField is the field of swings nearest to a limb's own, which is a table, that constraints can
// express: the centred one whose centre has its greatest difference over the
// joint's range of motion, which is for animation and no clinical advice, the least.
type NearestField struct {
	Centre [3]float64 `json:"centre"` // as a limb file has it: in the anchor's frame at rest
	// ErrorMaxDeg and ErrorRMSDeg are by how many degrees the root's segment turns about
	// the bone away from its own field's, at most and in the mean square over the
	// range's directions, on a grid of a degree; other segments by what they do not
	// keep of it.
	ErrorMaxDeg float64 `json:"error_max_deg"`
	ErrorRMSDeg float64 `json:"error_rms_deg"`
}

// nearestField finds the nearest centred field of a limb that bends by a table;
// nil where no centre is any good.
func (l *limb) nearestField() *NearestField {
	best, motion := l.solver.Field(), l.solver.Range()
	if motion.IsZero() {
		return nil
	}
	const coarse, fine = 15 * math.Pi / 180, 1 * math.Pi / 180
	looked := swings(best, motion, coarse)
	x, y := best.Frame()
	at := func(p []float64) r3.Vec {
		return r3.Unit(r3.Add(best.Centre(), r3.Add(r3.Scale(p[0], x), r3.Scale(p[1], y))))
	}
	problem := optimize.Problem{Func: func(p []float64) float64 {
		most, _ := difference(best.Axis(), at(p), looked)
		return most
	}}
	// The greatest of many differences has edges, which a simplex does not mind.
	// What it stops for, it has found the least so far.
	found, err := optimize.Minimize(problem, []float64{0, 0}, &optimize.Settings{FuncEvaluations: 400}, &optimize.NelderMead{SimplexSize: 0.1})
	if found == nil || err != nil && found.X == nil {
		return nil
	}
	// Rounded, for people to write down; the errors are those of what is written.
	const digits = 1e4
	given := rest.Offset(l.made.AnchorRest, l.made.JointRest).Direction(at(found.X))
	n := &NearestField{Centre: array(given)}
	for i, x := range n.Centre {
		n.Centre[i] = math.Round(x*digits) / digits
	}
	back := rest.Offset(l.made.JointRest, l.made.AnchorRest).Direction(r3.Unit(vec(n.Centre)))
	n.ErrorMaxDeg, n.ErrorRMSDeg = difference(best.Axis(), back, swings(best, motion, fine))
	n.ErrorMaxDeg *= 180 / math.Pi
	n.ErrorRMSDeg *= 180 / math.Pi
	if math.IsInf(n.ErrorMaxDeg, 0) {
		return nil
	}
	return n
}

// swung is a direction of the range, what it stands for of the range's area, and
// the field's swing there.
type swung struct {
	to   r3.Vec
	area float64
	by   quat.Number
}

// swings lists a field's swings over a range, in steps of so many radians, its edges
// among them. What each stands for is by the trapezoidal rule.
func swings(field *swing.Field, motion chain.Range, step float64) (out []swung) {
	flexions, abductions := spread(motion.Flexion, step), spread(motion.Abduction, step)
	for i, flexion := range flexions {
		for j, abduction := range abductions {
			to := motion.Direction(flexion, abduction)
			if by, ok := field.Swing(to); ok {
				area := math.Cos(abduction) * part(i, len(flexions)) * part(j, len(abductions))
				out = append(out, swung{to, area, by})
			}
		}
	}
	return out
}

// spread is equal steps from one limit to the other.
func spread(limits [2]float64, step float64) []float64 {
	n := max(1, int(math.Ceil((limits[1]-limits[0])/step)))
	return floats.Span(make([]float64, n+1), limits[0], limits[1])
}

// part is what place i of n stands for, in steps.
func part(i, n int) float64 {
	if i == 0 || i == n-1 {
		return 0.5
	}
	return 1
}

// difference is by how much the swings by way of a centre turn about the bone away
// from others, at most and in the mean square.
func difference(axis, centre r3.Vec, others []swung) (most, mean float64) {
	field, err := swing.NewField(axis, centre)
	if err != nil {
		return math.Inf(1), math.Inf(1)
	}
	var sum, area float64
	for _, other := range others {
		by, ok := field.Swing(other.to)
		if !ok {
			return math.Inf(1), math.Inf(1)
		}
		d := quat.Mul(quat.Conj(by), other.by)
		angle := 2 * math.Atan2(r3.Norm(r3.Vec{X: d.Imag, Y: d.Jmag, Z: d.Kmag}), math.Abs(d.Real))
		most = max(most, angle)
		sum += other.area * angle * angle
		area += other.area
	}
	return most, math.Sqrt(sum / area)
}
