package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// measure finds the twists of a limb's joint and tip in many poses at once.
type measure struct {
	// twists is the limb's solver for two segments, the first of which gives back the
	// joint's whole twist, while the second takes the tip's.
	twists   chain.Batch[float64]
	own, tip condition
}

func (m *measure) setMeasure(spec chain.Limb) error {
	spec.Segments, spec.Shares = 2, []float64{0, 1}
	if spec.Twist == chain.Tip {
		spec.TipShares = []float64{0, 1}
	}
	solver, err := chain.NewSolver(spec)
	if err != nil {
		return err
	}
	m.twists = chain.NewBatch[float64](solver)
	m.own, m.tip = conditionOf(solver.Field().Arc(), solver.Axis()), conditionOf(quat.Number{Real: 1}, solver.Axis())
	return nil
}

// solve writes the twists of each pose to dst, the joint's with its sign turned and
// the tip's.
func (m *measure) solve(dst []float64, joints, tips []quat.Number) {
	if _, err := m.twists.Angles(dst, chain.Numbers(joints, 1), chain.Numbers(tips, 1), len(joints)); err != nil {
		panic(err) // slices of other lengths
	}
}

// condition tells how well a pose determines its twist: see chain.Result. With c the
// centre of the swings, half the cosine and the sine of the arc B from the axis to it,
// it is the length of the part of q B* about c, as internal/kernel derives.
type condition struct {
	half, sin r3.Vec
	cos       float64
}

func conditionOf(arc quat.Number, axis r3.Vec) condition {
	sin := r3.Vec{X: arc.Imag, Y: arc.Jmag, Z: arc.Kmag}
	return condition{half: r3.Add(r3.Scale(arc.Real, axis), r3.Cross(sin, axis)), sin: sin, cos: arc.Real}
}

// of takes a rotation of length 1.
func (c *condition) of(q *quat.Number) float64 {
	p := q.Imag*c.half.X + q.Jmag*c.half.Y + q.Kmag*c.half.Z
	w := q.Real*c.cos + q.Imag*c.sin.X + q.Jmag*c.sin.Y + q.Kmag*c.sin.Z
	return math.Sqrt(p*p + w*w)
}
