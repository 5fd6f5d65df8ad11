package swing_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func ExampleArc() {
	q, determined := swing.Arc(r3.Vec{X: 1}, r3.Vec{Y: 5})
	fmt.Printf("%.3f %t\n", q, determined)
	// Opposite directions leave the axis open.
	q, determined = swing.Arc(r3.Vec{X: 3, Y: 1, Z: 4}, r3.Vec{X: -3, Y: -1, Z: -4})
	fmt.Printf("%.3f %t\n", q, determined)
	// Output:
	// (0.707+0.000i+0.000j+0.707k) true
	// (0.000-0.800i+0.000j+0.600k) false
}

func ExamplePerpendicular() {
	p, ok := swing.Perpendicular(r3.Vec{X: 3, Y: 1, Z: 4})
	fmt.Printf("(%.1f, %.1f, %.1f) %t\n", p.X, p.Y, p.Z, ok)
	// Output: (-0.8, 0.0, 0.6) true
}

// A segment follows its joint, which has turned by 30 degrees, and is then
// aimed at the next joint.
func ExampleAim() {
	bone := r3.Vec{Y: 1}
	joint := twist.About(r3.Vec{X: 1}, math.Pi/6)
	toNext := r3.Vec{X: 1, Y: 1, Z: 1}
	q, determined := swing.Aim(joint, bone, toNext)
	fmt.Printf("%.3f %t\n", q, determined)
	// Output: (0.885+0.353i+0.079j-0.295k) true
}

// The same for a segment whose rotation is local to a turned parent.
func ExampleAimIn() {
	parent := twist.About(r3.Vec{Z: 1}, math.Pi/2)
	local, _ := swing.AimIn(parent, quat.Number{Real: 1}, r3.Vec{Y: 1}, r3.Vec{Y: 1})
	fmt.Printf("local %.3f\n", local)
	fmt.Printf("world %.3f\n", quat.Mul(parent, local))
	// Output:
	// local (0.707+0.000i+0.000j-0.707k)
	// world (1.000+0.000i+0.000j+0.000k)
}

// An arm hangs down and reaches almost straight up, a little to the left and a
// little to the right of the vertical. The shortest arcs roll it by half a
// turn in between; with a centre in front the two poses nearly agree.
func ExampleCentred() {
	down, front := r3.Vec{Y: -1}, r3.Vec{Z: 1}
	left, right := r3.Vec{X: -0.1, Y: 1, Z: 0.1}, r3.Vec{X: 0.1, Y: 1, Z: 0.1}
	part := func(p, q quat.Number) float64 {
		d := quat.Mul(p, quat.Conj(q))
		v := r3.Vec{X: d.Imag, Y: d.Jmag, Z: d.Kmag}
		return 2 * math.Atan2(r3.Norm(v), math.Abs(d.Real)) * 180 / math.Pi
	}
	a, _ := swing.Arc(down, left)
	b, _ := swing.Arc(down, right)
	fmt.Printf("plain: %.0f degrees apart\n", part(a, b))
	a, _ = swing.Centred(down, front, left)
	b, _ = swing.Centred(down, front, right)
	fmt.Printf("centred: %.0f degrees apart\n", part(a, b))
	// Output:
	// plain: 179 degrees apart
	// centred: 15 degrees apart
}

// A reference direction carried round a quarter of a circle: what pointed out
// of the plane still does, what pointed outwards still does.
func ExampleTransport() {
	var points, tangents []r3.Vec
	for i := range 4 {
		s, c := math.Sincos(float64(i) * math.Pi / 6)
		points = append(points, r3.Vec{X: c, Y: s})
		tangents = append(tangents, r3.Vec{X: -s, Y: c})
	}
	for _, r := range swing.Transport(nil, points, tangents, r3.Vec{X: 1, Z: 1}) {
		fmt.Printf("%.3f %.3f %.3f\n", r.X, r.Y, r.Z)
	}
	// Output:
	// 0.707 0.000 0.707
	// 0.612 0.354 0.707
	// 0.354 0.612 0.707
	// 0.000 0.707 0.707
}
