package swing_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A hanging thigh is pointed at a foothold: straight there, and by way of a direction
// ahead, which makes it roll less.
func Example() {
	down, ahead, foothold := r3.Vec{Y: -1}, r3.Vec{Y: -1, Z: 1}, r3.Vec{X: 0.5, Y: 0.2, Z: 1}
	straight, _ := swing.Arc(down, foothold)
	byWay, _ := swing.Centred(down, ahead, foothold)
	fmt.Printf("%.3f\n%.3f\n", straight, byWay)
	apart, _ := twist.Angle(quat.Mul(quat.Conj(straight), byWay), down)
	fmt.Printf("%.1f degrees about the thigh between them\n", apart*180/math.Pi)
	// Output:
	// (0.642-0.686i+0.000j+0.343k)
	// (0.634-0.730i+0.097j+0.235k)
	// -17.4 degrees about the thigh between them
}

// Directions of any length; the shortest turn from one to the other.
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

// A hip bends forward by up to 120 degrees and back by 30, outward by 45 and
// inward by 30. Over that range the field that rolls least rolls less at worst
// than shortest arcs, or those by way of a centre in the middle, do.
func ExampleLeastRoll() {
	down, forward, outward := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	direction := func(flexion, abduction float64) r3.Vec {
		sinF, cosF := math.Sincos(flexion * math.Pi / 180)
		sinA, cosA := math.Sincos(abduction * math.Pi / 180)
		return r3.Vec{X: sinA, Y: -cosA * cosF, Z: cosA * sinF}
	}
	const degree = math.Pi / 180
	hip, err := swing.LonLat(down, forward, outward,
		[2]float64{-30 * degree, 120 * degree}, [2]float64{-30 * degree, 45 * degree})
	if err != nil {
		fmt.Println(err)
		return
	}
	middle := direction(45, 0)
	plain, _ := swing.NewField(down, down)
	centred, _ := swing.NewField(down, middle)
	best, err := swing.LeastRoll(down, middle, hip, swing.Knots)
	if err != nil {
		fmt.Println(err)
		return
	}

	// Roll on the way from one direction to a near one: what is left of the
	// swing's change when the shortest arc between the two is taken out.
	const step = 1e-5
	roll := func(f *swing.Field, from, to r3.Vec) float64 {
		s, _ := f.Swing(from)
		next, _ := f.Swing(to)
		carry, _ := swing.Arc(from, to)
		angle, _ := twist.Angle(quat.Mul(next, quat.Conj(quat.Mul(carry, s))), to)
		return angle / step
	}
	worst := func(f *swing.Field) (worst float64) {
		for flexion := -30.; flexion <= 120; flexion += 5 {
			for abduction := -30.; abduction <= 45; abduction += 5 {
				d := direction(flexion, abduction)
				u, _ := swing.Perpendicular(d)
				v := r3.Cross(d, u)
				a := roll(f, d, r3.Add(d, r3.Scale(step, u)))
				b := roll(f, d, r3.Add(d, r3.Scale(step, v)))
				worst = max(worst, math.Hypot(a, b))
			}
		}
		return worst
	}
	fmt.Printf("shortest arcs: %.2f radians a radian\n", worst(plain))
	fmt.Printf("by way of the middle: %.2f\n", worst(centred))
	fmt.Printf("best: %.2f\n", worst(best))
	// Output:
	// shortest arcs: 1.73 radians a radian
	// by way of the middle: 0.83
	// best: 0.72
}
