package main

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"
)

// mathgl32s are the tasks as one would write them with mathgl in float32.
func mathgl32s(d *data) ([]contender, error) {
	axis := mgl32.Vec3{float32(d.axis.X), float32(d.axis.Y), float32(d.axis.Z)}
	var poses []mgl32.Quat
	var targets []mgl32.Vec3
	for i, q := range d.poses {
		poses = append(poses, mgl32.Quat{W: float32(q.Real), V: mgl32.Vec3{float32(q.Imag), float32(q.Jmag), float32(q.Kmag)}})
		t := d.targets[i]
		targets = append(targets, mgl32.Vec3{float32(t.X), float32(t.Y), float32(t.Z)})
	}
	var shares [segments]float32
	for i := range shares {
		shares[i] = float32(i) / (segments - 1)
	}
	on := func(t task, name string, pass func(dst []mgl32.Quat)) contender {
		dst := make([]mgl32.Quat, rotations(t)*len(poses))
		return contender{t, name, float32s, func() { pass(dst) }, func() []float64 {
			var out []float64
			for _, q := range dst {
				out = append(out, float64(q.V[0]), float64(q.V[1]), float64(q.V[2]), float64(q.W))
			}
			return out
		}}
	}
	return []contender{
		on(limb, "mathgl, by slerp", func(dst []mgl32.Quat) {
			for i, q := range poses {
				t := mgl32.Quat{W: q.W, V: axis.Mul(q.V.Dot(axis))}.Normalize()
				if t.W < 0 {
					t = t.Scale(-1)
				}
				back := t.Conjugate()
				for j, share := range shares {
					dst[i*segments+j] = mgl32.QuatSlerp(back, mgl32.QuatIdent(), share)
				}
			}
		}),
		on(limb, "mathgl, careful", func(dst []mgl32.Quat) {
			for i, q := range poses {
				p, w := float64(q.V.Dot(axis)), float64(q.W)
				angle := float32(2 * math.Atan2(math.Copysign(1, w)*p, math.Abs(w)))
				for j, share := range shares {
					dst[i*segments+j] = mgl32.QuatRotate((share-1)*angle, axis)
				}
			}
		}),
		on(aim, "mathgl, by QuatBetweenVectors", func(dst []mgl32.Quat) {
			for i, q := range poses {
				dst[i] = mgl32.QuatBetweenVectors(q.Rotate(axis), targets[i]).Mul(q)
			}
		}),
		on(aim, "mathgl, careful", func(dst []mgl32.Quat) {
			for i, q := range poses {
				from := q.Rotate(axis)
				half := from.Add(targets[i].Normalize()) // half-way between them
				if length := half.Len(); length > 0x1p-23 {
					half = half.Mul(1 / length)
					dst[i] = mgl32.Quat{W: from.Dot(half), V: from.Cross(half)}.Mul(q)
				} else { // opposite: any half turn across
					dst[i] = mgl32.QuatBetweenVectors(from, targets[i]).Mul(q)
				}
			}
		}),
	}, nil
}
