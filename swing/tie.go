package swing

import (
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// tie is how a section is tied to the shortest arcs from a field's axis a. The angle
// from the centred swing to the shortest arc at a direction d, both of which carry
// a there, is
//
//	β = 2 arg F,   F = D + i N,   D = 1 + a·c + c·d + d·a,   N = a·(d × c),
//	|F|^2 = 2 (1 + a·c)(1 + c·d)(1 + d·a),
//
// the signed solid angle of the triangle (a, d, c) (van Oosterom and Strackee 1983,
// doi 10.1109/TBME.1983.325207). With n^2 = (1 + d·a)/2, the weight times e^iβ is
// smooth, also opposite the axis where β is undefined:
//
//	n^2 e^iβ = F^2/(4 (1 + a·c)(1 + c·d)),   n^2 dβ = Im(F* dF)/(2 (1 + a·c)(1 + c·d)).
type tie struct {
	Balance
	f     *Field
	both  float64 // 1 + a·c
	sum   r3.Vec  // a + c
	cross r3.Vec  // c × a
}

func newTie(f *Field, o Balance) *tie {
	return &tie{
		Balance: o, f: f, both: 1 + steady.Dot(f.axis, f.centre),
		sum: r3.Add(f.axis, f.centre), cross: steady.Cross(f.centre, f.axis),
	}
}

// direction is where a place of the plane lies on the sphere; scale is 1/(1 + r^2),
// half of 1 + c·d.
func (t *tie) direction(x, y float64) (d r3.Vec, scale float64) {
	r2 := float64(x*x) + float64(y*y)
	scale = 1 / (1 + r2)
	return steady.Along(2*x*scale, t.f.x, 2*y*scale, t.f.y, (1-r2)*scale, t.f.centre), scale
}

// triangle is F, and 1/(4 (1 + a·c)(1 + c·d)).
func (t *tie) triangle(d r3.Vec, scale float64) (re, im, under float64) {
	return t.both + steady.Dot(t.sum, d), steady.Dot(t.cross, d), 1 / (8 * t.both * scale)
}

// pull is what ties a section at a place of the plane, for a unit of its area: the
// weight of |u|^2, and that of e^iβ.
func (t *tie) pull(x, y float64) (weight, re, im float64) {
	d, scale := t.direction(x, y)
	n2 := (1 + steady.Dot(t.f.axis, d)) / 2
	lambda := float64(t.Lambda * 4 * scale * scale) // the sphere's area
	if t.Power == 4 {
		lambda *= n2
	}
	re, im, under := t.triangle(d, scale)
	under = float64(lambda * under) // rounded: doubled, it is added to itself
	return float64(lambda * n2), under * (float64(re*re) - float64(im*im)), 2 * under * re * im
}

// slope is n^2 dβ.
func (t *tie) slope(x, y float64) (gx, gy float64) {
	d, scale := t.direction(x, y)
	re, im, under := t.triangle(d, scale)
	both := r3.Add(d, t.f.centre)
	along := func(e r3.Vec, at float64) float64 {
		v := steady.Scale(2*scale, steady.Less(e, at, both)) // the derivative of d
		return 2 * under * (float64(re*steady.Dot(t.cross, v)) - float64(im*steady.Dot(t.sum, v)))
	}
	return along(t.f.x, x), along(t.f.y, y)
}
