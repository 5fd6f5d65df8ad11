package main

import (
	"math"

	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// gonums are the tasks as one would write them with gonum.
func gonums(d *data) ([]contender, error) {
	shares := twist.Linear(segments)
	return []contender{
		onQuats(limb, "gonum, by powers", d, func(dst []quat.Number) {
			for i, q := range d.poses {
				p := q.Imag*d.axis.X + q.Jmag*d.axis.Y + q.Kmag*d.axis.Z
				t := quat.Number{Real: q.Real, Imag: p * d.axis.X, Jmag: p * d.axis.Y, Kmag: p * d.axis.Z}
				t = quat.Scale(math.Copysign(1/quat.Abs(t), t.Real), t)
				for j, share := range shares {
					dst[i*segments+j] = quat.PowReal(t, share-1)
				}
			}
		}),
		onQuats(limb, "gonum, careful", d, func(dst []quat.Number) {
			for i, q := range d.poses {
				p := q.Imag*d.axis.X + q.Jmag*d.axis.Y + q.Kmag*d.axis.Z
				half := math.Atan2(math.Copysign(1, q.Real)*p, math.Abs(q.Real))
				for j, share := range shares {
					sin, cos := math.Sincos((share - 1) * half)
					dst[i*segments+j] = quat.Number{Real: cos, Imag: sin * d.axis.X, Jmag: sin * d.axis.Y, Kmag: sin * d.axis.Z}
				}
			}
		}),
		onQuats(aim, "gonum, by NewRotation", d, func(dst []quat.Number) {
			for i, q := range d.poses {
				from := r3.Rotation(q).Rotate(d.axis)
				across := r3.Cross(from, d.targets[i])
				angle := math.Atan2(r3.Norm(across), r3.Dot(from, d.targets[i]))
				dst[i] = quat.Mul(quat.Number(r3.NewRotation(angle, across)), q)
			}
		}),
		onQuats(aim, "gonum, careful", d, func(dst []quat.Number) {
			for i, q := range d.poses {
				from := r3.Rotation(q).Rotate(d.axis)
				half := r3.Add(from, r3.Unit(d.targets[i])) // half-way between them
				if length := r3.Norm(half); length > 0x1p-52 {
					half = r3.Scale(1/length, half)
				} else { // opposite: any half turn across
					half = across(from)
				}
				v := r3.Cross(from, half)
				dst[i] = quat.Mul(quat.Number{Real: r3.Dot(from, half), Imag: v.X, Jmag: v.Y, Kmag: v.Z}, q)
			}
		}),
	}, nil
}

// across is a unit vector at right angles to v.
func across(v r3.Vec) r3.Vec {
	if math.Abs(v.X) < 0.5 {
		return r3.Unit(r3.Cross(v, r3.Vec{X: 1}))
	}
	return r3.Unit(r3.Cross(v, r3.Vec{Y: 1}))
}
