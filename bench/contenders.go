package main

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// contender solves all poses of one limb; dst has the segments pose after pose.
type contender struct {
	name     string
	solveAll func(dst, joints []quat.Number)
}

func contenders() []contender {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	shares := twist.Linear(segments)
	solver, err := chain.NewSolver(chain.Limb{Axis: axis, Segments: segments})
	if err != nil {
		panic(err) // the specification stands three lines up
	}
	each := func(solve func(dst []quat.Number, joint quat.Number)) func(dst, joints []quat.Number) {
		return func(dst, joints []quat.Number) {
			for i, joint := range joints {
				solve(dst[i*segments:(i+1)*segments], joint)
			}
		}
	}
	return []contender{
		{"pronate, batch", func(dst, joints []quat.Number) { solver.SolveBatch(dst, joints, nil) }},
		{"pronate, one by one", each(func(dst []quat.Number, joint quat.Number) { solver.Solve(dst, joint, quat.Number{}) })},
		{"pronate, its public parts", each(func(dst []quat.Number, joint quat.Number) {
			angle, _ := twist.Angle(joint, axis)
			for i, share := range shares {
				dst[i] = twist.About(axis, (share-1)*angle)
			}
		})},
		{"gonum, careful", each(func(dst []quat.Number, joint quat.Number) {
			p := r3.Dot(r3.Vec{X: joint.Imag, Y: joint.Jmag, Z: joint.Kmag}, axis)
			half := math.Atan2(p, joint.Real)
			for i, share := range shares {
				dst[i] = quat.Number(r3.NewRotation(2*(share-1)*wrap(half), axis))
			}
		})},
		{"gonum, by powers", each(func(dst []quat.Number, joint quat.Number) {
			p := r3.Dot(r3.Vec{X: joint.Imag, Y: joint.Jmag, Z: joint.Kmag}, axis)
			t := quat.Number{Real: joint.Real, Imag: p * axis.X, Jmag: p * axis.Y, Kmag: p * axis.Z}
			t = quat.Scale(1/quat.Abs(t), t)
			if t.Real < 0 {
				t = quat.Scale(-1, t)
			}
			for i, share := range shares {
				dst[i] = quat.PowReal(t, share-1)
			}
		})},
		{"mathgl, by slerp", each(func(dst []quat.Number, joint quat.Number) {
			a := mgl64.Vec3{axis.X, axis.Y, axis.Z}
			q := mgl64.Quat{W: joint.Real, V: mgl64.Vec3{joint.Imag, joint.Jmag, joint.Kmag}}
			t := mgl64.Quat{W: q.W, V: a.Mul(q.V.Dot(a))}.Normalize()
			if t.W < 0 {
				t = t.Scale(-1)
			}
			back := t.Inverse()
			for i, share := range shares {
				s := back.Mul(mgl64.QuatSlerp(mgl64.QuatIdent(), t, share))
				dst[i] = quat.Number{Real: s.W, Imag: s.V[0], Jmag: s.V[1], Kmag: s.V[2]}
			}
		})},
	}
}

// wrap brings half a twist into (-pi/2, pi/2].
func wrap(half float64) float64 {
	switch {
	case half > math.Pi/2:
		return half - math.Pi
	case half <= -math.Pi/2:
		return half + math.Pi
	}
	return half
}
