package swing_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/spatial/r3"
)

// A hanging thigh's swings by way of a direction half ahead.
func ExampleNewField() {
	down, ahead := r3.Vec{Y: -1}, r3.Vec{Z: 1}
	field, err := swing.NewField(down, r3.Add(down, ahead))
	if err != nil {
		fmt.Println(err)
		return
	}
	atRest, _ := field.Swing(down)
	fmt.Printf("%.3f\n", atRest.Real)
	out, determined := field.Swing(r3.Vec{X: 1})
	carried := r3.Rotation(out).Rotate(down)
	fmt.Printf("%.3f %t\n", carried.X, determined)

	_, err = swing.NewField(down, r3.Vec{Y: 1})
	fmt.Println(err)
	// Output:
	// 1.000
	// 1.000 true
	// swing: field: centre is opposite the axis, expected another direction
}

// Making a best field is solving for it, so one may want to keep it. What comes back
// is the same to the last bit.
func ExampleField_MarshalBinary() {
	down := r3.Vec{Y: -1}
	region, err := swing.Cap(r3.Vec{Y: -1, Z: 1}, math.Pi/3)
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := swing.LeastRoll(down, r3.Vec{Y: -1, Z: 1}, region, swing.Knots)
	if err != nil {
		fmt.Println(err)
		return
	}
	data, err := field.MarshalBinary()
	if err != nil {
		fmt.Println(err)
		return
	}
	var kept swing.Field
	if err := kept.UnmarshalBinary(data); err != nil {
		fmt.Println(err)
		return
	}
	d := r3.Vec{X: 0.3, Y: -0.2, Z: 1}
	was, _ := field.Swing(d)
	is, _ := kept.Swing(d)
	fmt.Println(is == was, kept.IsCorrected())
	fmt.Println(kept.UnmarshalBinary(data[:20]))
	// Output:
	// true true
	// swing: no field file, or a damaged one
}

// One field serves both thighs of every climber: turned to the joint's own axes.
func ExampleField_Turned() {
	down, ahead := r3.Vec{Y: -1}, r3.Vec{Y: -1, Z: 1}
	region, err := swing.Cap(ahead, math.Pi/3)
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := swing.LeastRoll(down, ahead, region, swing.Knots)
	if err != nil {
		fmt.Println(err)
		return
	}
	quarter, _ := swing.Arc(down, r3.Vec{X: 1}) // to a joint whose bone lies along X
	turned, err := field.Turned(quarter, r3.Vec{X: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %.2f\n", field.Centre().Z, turned.Centre().X)
	// Output: 0.71 0.71
}

// A cap of 60 degrees about where a thigh points: no field over it rolls less than
// area over perimeter, on average along its edge; for a cap that is tan(60/2).
func ExampleCap() {
	reach, err := swing.Cap(r3.Vec{Y: -1, Z: 1}, math.Pi/3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f steradians, %.3f radians round, %.3f\n", reach.Area(), reach.Perimeter(), reach.Area()/reach.Perimeter())
	_, err = swing.Cap(r3.Vec{Y: -1}, 4)
	fmt.Println(err)
	// Output:
	// 3.142 steradians, 5.441 radians round, 0.577
	// swing: cap: radius is 4, expected radians over 0 and below pi
}

// An eighth of the sphere, between straight ahead, out and up.
func ExamplePolygon() {
	region, err := swing.Polygon(r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f of the sphere\n", region.Area()/(4*math.Pi))
	// Output: 0.1250 of the sphere
}

// What a best field adds to the centred one: a turn about the axis, looked up in the
// stereographic plane about the centre.
func ExampleField_Correction() {
	down, ahead := r3.Vec{Y: -1}, r3.Vec{Y: -1, Z: 1}
	region, err := swing.Cap(ahead, math.Pi/3)
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := swing.LeastRoll(down, ahead, region, swing.Knots)
	if err != nil {
		fmt.Println(err)
		return
	}
	d := r3.Vec{X: 1, Y: -1, Z: 0.5}
	x, y := field.Plane(d)
	fmt.Println(field.Correction(d) == field.CorrectionAt(x, y), field.Correction(field.Axis()))

	// The plane's frame leads back to the direction.
	across, up := field.Frame()
	back := r3.Add(r3.Scale(1-x*x-y*y, field.Centre()), r3.Add(r3.Scale(2*x, across), r3.Scale(2*y, up)))
	fmt.Printf("%.3f %.3f\n", r3.Unit(back), r3.Unit(d))
	// Output:
	// true 0
	// {0.667 -0.667 0.333} {0.667 -0.667 0.333}
}

// A quarter of the sphere, from straight ahead to the side and from pole to pole.
func ExampleLonLat() {
	region, err := swing.LonLat(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{Y: 1},
		[2]float64{0, math.Pi / 2}, [2]float64{-math.Pi / 2, math.Pi / 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f of the sphere, %.2f radians round\n", region.Area()/(4*math.Pi), region.Perimeter())
	edge := region.Edge()
	fmt.Println(len(edge) > 1000, math.Abs(r3.Norm(edge[0])-1) < 1e-15)
	// Output:
	// 0.25 of the sphere, 6.28 radians round
	// true true
}
