package chain_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wren's upper arm, 30 cm long, reaches for a hold 36 cm away: each segment gets
// longer, and thinner so as to keep its volume.
func ExampleNewStretcher() {
	arm := chain.Limb{Name: "upperarm_l", Axis: r3.Vec{X: 1}, Length: 0.3, Segments: 3}
	stretcher, err := chain.NewStretcher(arm, chain.Stretch{})
	if err != nil {
		fmt.Println(err)
		return
	}
	segments := make([]chain.Stretched, stretcher.Segments())
	length := stretcher.ByDistance(segments, 0.36)
	fmt.Printf("%.2f times as long\n", length.Ratio)
	for _, s := range segments {
		fmt.Printf("at %.2f m, along %.2f, across %.3f\n", s.At, s.Along, s.Across)
	}

	length = stretcher.ByDistance(segments, 0.7) // out of reach
	fmt.Printf("%.2f m, %.2f m short\n", length.Metres, length.Short)
	// Output:
	// 1.20 times as long
	// at 0.00 m, along 1.20, across 0.913
	// at 0.12 m, along 1.20, across 0.913
	// at 0.24 m, along 1.20, across 0.913
	// 0.60 m, 0.10 m short
}

// All of the change goes to the middle of the bone, and the section stays.
func ExampleStretcher_ByRatio() {
	section := 0.
	stretcher, err := chain.NewStretcher(
		chain.Limb{Name: "upperarm_l", Length: 0.3, Segments: 3},
		chain.Stretch{Shares: []float64{0, 1, 0}, Exponent: &section},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	segments := make([]chain.Stretched, stretcher.Segments())
	stretcher.ByRatio(segments, 1.2)
	for _, s := range segments {
		fmt.Printf("along %.2f, across %.2f\n", s.Along, s.Across)
	}
	// Output:
	// along 1.00, across 1.00
	// along 1.60, across 1.00
	// along 1.00, across 1.00
}

// Wren pulls up: her elbow closes by 120 degrees, and her upper arm's flesh makes
// room for her forearm's, most of all at the fold.
func ExampleNewCreaser() {
	arm := chain.Limb{Name: "upperarm_l", Segments: 3}
	creaser, err := chain.NewCreaser(arm, chain.Crease{Part: chain.NearPart, Most: 0.01})
	if err != nil {
		fmt.Println(err)
		return
	}
	up := r3.Vec{X: -1}                               // from the elbow up the upper arm
	forearm := r3.Vec{X: -0.5, Y: 0.8660254037844386} // and down the forearm
	moves := make([]r3.Vec, creaser.Segments())       // metres, in the frame of the two directions
	relief := creaser.Solve(moves, up, forearm)
	fmt.Printf("closed by %.0f degrees, eased by %.1f mm\n", relief.Closed/degree, 1000*relief.Amount)
	for _, m := range moves {
		fmt.Printf("%.1f mm\n", 1000*r3.Norm(m))
	}
	// Output:
	// closed by 120 degrees, eased by 9.0 mm
	// 0.0 mm
	// 4.5 mm
	// 9.0 mm
}

// Where clips scale the segments themselves, each keeps its own ratio; the whole
// stays within its limits, here half to double.
func ExampleStretcher_ByRatios() {
	stretcher, err := chain.NewStretcher(chain.Limb{Name: "upperarm_l", Length: 0.3, Segments: 3}, chain.Stretch{})
	if err != nil {
		fmt.Println(err)
		return
	}
	segments := make([]chain.Stretched, stretcher.Segments())
	length := stretcher.ByRatios(segments, []float64{1, 1.2, 1.4})
	fmt.Printf("%.2f m:", length.Metres)
	for _, s := range segments {
		fmt.Printf(" %.2f", s.Along)
	}
	least, most := stretcher.Limits()
	fmt.Printf(", limits %g to %g\n", least, most)
	// Output: 0.36 m: 1.00 1.20 1.40, limits 0.5 to 2
}

// How far a fold is eased as it closes: not at all, then ever more, then no more.
func ExampleCreaser_Relief() {
	creaser, err := chain.NewCreaser(chain.Limb{Name: "upperarm_l"}, chain.Crease{Most: 0.01})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, bend := range []float64{30, 90, 150} {
		sin, cos := math.Sincos(bend * degree)
		relief := creaser.Relief(r3.Vec{X: -1}, r3.Vec{X: cos, Y: sin})
		fmt.Printf("%.0f degrees: %.1f mm\n", relief.Closed/degree, 1000*relief.Amount)
	}
	// Output:
	// 30 degrees: 0.0 mm
	// 90 degrees: 5.0 mm
	// 150 degrees: 10.0 mm
}
