package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A program with joints of its own takes its limbs from a limb file and solves them
// without a glTF file.
func ExampleLimbSpec_Solver() {
	thigh := asset.LimbSpec{Joint: "thigh_l", End: asset.End{Joint: "shin_l"}}
	solver, note, err := thigh.Solver(asset.Stance{Axis: r3.Vec{Y: -1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d segments, best field %t, note %q\n", solver.Segments(), solver.Field().IsCorrected(), note)

	segments := make([]quat.Number, solver.Segments())
	turned := quat.Number{Real: 0.8, Jmag: -0.6}
	solver.Solve(segments, turned, quat.Number{})
	fmt.Printf("%.2f\n", segments[0].Jmag)
	// Output:
	// 3 segments, best field true, note ""
	// 0.60
}

// What a limb file leaves open, filled in from the character.
func ExampleResolve() {
	limbs, err := asset.Resolve(wren(), []asset.LimbSpec{{Joint: "thigh_l", End: asset.End{Joint: "shin_l"}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := limbs[0]
	fmt.Printf("%s: %.2f m, %d segments, range known %t\n", l.Spec.Name, l.Length, l.Solver.Segments, !l.Range.IsZero())
	// Output: thigh_l: 0.42 m, 3 segments, range known true
}
