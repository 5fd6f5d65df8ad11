package main

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// mathgl64s are the tasks as one would write them with mathgl in float64.
func mathgl64s(d *data) ([]contender, error) {
	axis := mgl64.Vec3{d.axis.X, d.axis.Y, d.axis.Z}
	var poses []mgl64.Quat
	var targets []mgl64.Vec3
	for i, q := range d.poses {
		poses = append(poses, mgl64.Quat{W: q.Real, V: mgl64.Vec3{q.Imag, q.Jmag, q.Kmag}})
		t := d.targets[i]
		targets = append(targets, mgl64.Vec3{t.X, t.Y, t.Z})
	}
	var shares [segments]float64
	for i := range shares {
		shares[i] = float64(i) / (segments - 1)
	}
	on := func(t task, name string, pass func(dst []mgl64.Quat)) contender {
		dst := make([]mgl64.Quat, rotations(t)*len(poses))
		return contender{t, name, float64s, func() { pass(dst) }, func() []float64 {
			var out []float64
			for _, q := range dst {
				out = append(out, q.V[0], q.V[1], q.V[2], q.W)
			}
			return out
		}}
	}
	return []contender{
		on(limb, "mathgl, by slerp", func(dst []mgl64.Quat) {
			for i, q := range poses {
				t := mgl64.Quat{W: q.W, V: axis.Mul(q.V.Dot(axis))}.Normalize()
				if t.W < 0 {
					t = t.Scale(-1)
				}
				back := t.Conjugate()
				for j, share := range shares {
					dst[i*segments+j] = mgl64.QuatSlerp(back, mgl64.QuatIdent(), share)
				}
			}
		}),
		on(limb, "mathgl, careful", func(dst []mgl64.Quat) {
			for i, q := range poses {
				p, w := q.V.Dot(axis), q.W
				angle := 2 * math.Atan2(math.Copysign(1, w)*p, math.Abs(w))
				for j, share := range shares {
					dst[i*segments+j] = mgl64.QuatRotate((share-1)*angle, axis)
				}
			}
		}),
		on(aim, "mathgl, by QuatBetweenVectors", func(dst []mgl64.Quat) {
			for i, q := range poses {
				dst[i] = mgl64.QuatBetweenVectors(q.Rotate(axis), targets[i]).Mul(q)
			}
		}),
		on(aim, "mathgl, careful", func(dst []mgl64.Quat) {
			for i, q := range poses {
				from := q.Rotate(axis)
				half := from.Add(targets[i].Normalize()) // half-way between them
				if length := half.Len(); length > 0x1p-52 {
					half = half.Mul(1 / length)
					dst[i] = mgl64.Quat{W: from.Dot(half), V: from.Cross(half)}.Mul(q)
				} else { // opposite: any half turn across
					dst[i] = mgl64.QuatBetweenVectors(from, targets[i]).Mul(q)
				}
			}
		}),
	}, nil
}
