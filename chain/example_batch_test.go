package chain_test

import (
	"fmt"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Three frames of a clip at once, as gonum's quaternions.
func ExampleNumbers() {
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: r3.Vec{Y: -1}}) // of two segments
	if err != nil {
		fmt.Println(err)
		return
	}
	joints := make([]quat.Number, 3)
	for i := range joints {
		joints[i] = twist.About(thigh.Axis(), float64(i)*20*degree)
	}
	segments := make([]quat.Number, len(joints)*thigh.Segments())

	batch := chain.NewBatch[float64](thigh)
	none := chain.Numbers(nil, 1) // a thigh has no tip
	outcome, err := batch.Solve(chain.Numbers(segments, thigh.Segments()), chain.Numbers(joints, 1), none, len(joints))
	fmt.Println(outcome, err)
	for frame := range joints {
		first, _ := twist.Angle(segments[frame*thigh.Segments()], thigh.Axis())
		fmt.Printf("%.0f ", first/degree)
	}
	// Output:
	// {0 0} <nil>
	// 0 -20 -40
}

// The angles alone: two frames' of two segments each.
func ExampleBatch_Angles() {
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: r3.Vec{Y: -1}}) // of two segments
	if err != nil {
		fmt.Println(err)
		return
	}
	joints := []quat.Number{
		twist.About(thigh.Axis(), 30*degree),
		twist.About(thigh.Axis(), -30*degree),
	}
	angles := make([]float64, len(joints)*thigh.Segments())
	_, err = chain.NewBatch[float64](thigh).Angles(angles, chain.Numbers(joints, 1), chain.Numbers(nil, 1), len(joints))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range angles {
		fmt.Printf("%.0f ", a/degree)
	}
	// Output: -30 0 30 0
}

// A thousand climbers' thighs in float32, x, y, z, w side by side as engines and
// glTF keep them.
func ExampleNewBatch() {
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: r3.Vec{Y: -1}}) // of two segments
	if err != nil {
		fmt.Println(err)
		return
	}
	const climbers = 1000
	turned := twist.About(thigh.Axis(), 40*degree)
	joints := make([]float32, 0, 4*climbers)
	for range climbers {
		joints = append(joints, float32(turned.Imag), float32(turned.Jmag), float32(turned.Kmag), float32(turned.Real))
	}
	segments := make([]float32, 4*climbers*thigh.Segments())

	batch := chain.NewBatch[float32](thigh)
	none := chain.Rotations[float32]{} // a thigh has no tip
	outcome, err := batch.Solve(chain.Quaternions(segments, thigh.Segments()), chain.Quaternions(joints, 1), none, climbers)
	fmt.Println(outcome, err)
	fmt.Printf("y %.3f, w %.3f\n", segments[1], segments[3]) // of the first climber's first segment

	// Arrays that are too short are an error, and nothing is written.
	_, err = batch.Solve(chain.Quaternions(segments, thigh.Segments()), chain.Quaternions(joints[:8], 1), none, climbers)
	fmt.Println(err)
	// Output:
	// {0 0} <nil>
	// y 0.342, w 0.940
	// chain: batch: joints ends after 8, 7, 6 and 5 numbers from its first x, y, z and w on, expected enough for 1000 rotations of 1 segments at steps of 4 and 4
}

// Each component in a plane of its own, on two goroutines. Of a half-turn swing
// no twist can be told, and NaN stays where it came in.
func ExampleBatch_SolveOn() {
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: r3.Vec{Y: -1}}) // of two segments
	if err != nil {
		fmt.Println(err)
		return
	}
	const n = 3
	x := []float64{0, 1, 0}
	y := []float64{-0.6, 0, 0}
	z := []float64{0, 0, 0}
	w := []float64{0.8, 0, 0}
	x[2] /= x[0] // 0/0

	size := n * thigh.Segments()
	segments := chain.Planes(make([]float64, size), make([]float64, size), make([]float64, size), make([]float64, size), n)
	batch := chain.NewBatch[float64](thigh)
	outcome, err := batch.SolveOn(2, segments, chain.Planes(x, y, z, w, n), chain.Rotations[float64]{}, n)
	fmt.Printf("%+v %v\n", outcome, err)
	fmt.Printf("%.2f\n", segments.Y) // of the first segments, then of the second
	// Output:
	// {Undefined:1 Bad:1} <nil>
	// [0.60 0.00 NaN 0.00 0.00 NaN]
}

// Two head lamps shine along Z and are to shine where their climbers reach.
func ExampleNewAim() {
	aim, err := chain.NewAim[float64](r3.Vec{Z: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	frames := []float64{0, 0, 0, 1, 0, 0, 0, 1} // x, y, z, w
	targets := []float64{2, 0, 0, 0, 0, -3}     // directions; the second lies straight behind
	outcome, err := aim.Solve(chain.Quaternions(frames, 1), chain.Quaternions(frames, 1), chain.Vectors(targets), 2)
	fmt.Printf("%+v %v\n", outcome, err)
	fmt.Printf("%.3f\n", frames[:4])
	// Output:
	// {Undefined:1 Bad:0} <nil>
	// [0.000 0.707 0.000 0.707]
}

// The usual layouts: quaternions side by side, as glTF has them, or a plane for each
// component. Anything else is said by steps: here w comes first, and the limbs of a
// frame are 8 numbers apart.
func ExampleRotations() {
	flat := make([]float32, 8)
	fmt.Println(chain.Quaternions(flat, 2).Stride, chain.Quaternions(flat, 2).Segment)
	x, y, z, w := make([]float32, 2), make([]float32, 2), make([]float32, 2), make([]float32, 2)
	fmt.Println(chain.Planes(x, y, z, w, 1).Stride, chain.Planes(x, y, z, w, 1).Segment)
	wFirst := chain.Rotations[float32]{X: flat[1:], Y: flat[2:], Z: flat[3:], W: flat, Stride: 8}
	fmt.Println(len(wFirst.W))
	// Output:
	// 8 4
	// 1 1
	// 8
}
