package skin_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/skin"
)

// Four segments' weights at places along the bone.
func ExampleBasis_Weights() {
	w := make([]float64, 4)
	for _, u := range []float64{0, 0.25, 0.5, 1} {
		skin.Quadratic.Weights(w, u)
		fmt.Printf("%.2f: %.3f\n", u, w)
	}
	// Output:
	// 0.00: [1.000 0.000 0.000 0.000]
	// 0.25: [0.281 0.688 0.031 0.000]
	// 0.50: [0.000 0.500 0.500 0.000]
	// 1.00: [0.000 0.000 0.000 1.000]
}

func ExampleBasis_Spread() {
	for _, b := range []skin.Basis{skin.Hat, skin.Quadratic, skin.Cubic} {
		fmt.Println(b, b.Spread())
	}
	// Output:
	// hat 2
	// quadratic 3
	// cubic 4
}

// A vertex a third of the way down the thigh, held by the pelvis, joint 1, and the
// thigh, joint 2, which is split into 20, 21 and 22. What a vertex has no room for
// gives way.
func ExampleReplace() {
	vertex := []skin.Influence{{Joint: 1, Weight: 0.25}, {Joint: 2, Weight: 0.75}}
	thigh := skin.Split{Joint: 2, Segments: []int{20, 21, 22}, U: 0.35}
	for _, most := range []int{4, 3, 2} {
		replaced, moved := skin.Replace(nil, vertex, []skin.Split{thigh}, skin.Quadratic, most)
		fmt.Printf("%d:", most)
		for _, v := range replaced {
			fmt.Printf(" %d %.3f", v.Joint, v.Weight)
		}
		fmt.Printf(", moved %.3f\n", moved)
	}
	// Output:
	// 4: 1 0.250 20 0.240 21 0.495 22 0.015, moved 0.000
	// 3: 1 0.250 20 0.225 21 0.525, moved 0.030
	// 2: 1 0.250 21 0.750, moved 0.255
}

// How many segments a twist of 80 degrees takes if no more than 5 % of the radius
// are to go, and what fewer cost.
func ExamplePlan() {
	rows, err := skin.Plan(80*math.Pi/180, 0.05, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range rows {
		fmt.Printf("%d segments: radius %.3f, volume %.3f, joints +%d\n", row.Segments, row.LeastRadius, row.Volume, row.Joints)
	}
	// Output:
	// 1 segments: radius 0.766, volume 0.725, joints +0
	// 2 segments: radius 0.766, volume 0.725, joints +2
	// 3 segments: radius 0.940, volume 0.922, joints +3
	// 4 segments: radius 0.973, volume 0.965, joints +4
}

// What a quarter turn from one joint to the next leaves: of the radius half way, of a
// tube's volume in between; and a quarter of the way there the skin has turned less
// than a quarter of it.
func ExampleVolumeFactor() {
	const quarter = math.Pi / 2
	fmt.Printf("radius %.3f, volume %.3f\n", skin.RadiusFactor(0.5, quarter), skin.VolumeFactor(quarter))
	fmt.Printf("turned by %.1f of %.1f degrees\n", skin.SectionAngle(0.25, quarter)*180/math.Pi, 0.25*90)
	// Output:
	// radius 0.707, volume 0.667
	// turned by 18.4 of 22.5 degrees
}

// A twist of 90 degrees over three spans loses 3.4 % of the radius; two lose 7.6 %.
func ExampleSpans() {
	spans, err := skin.Spans(math.Pi/2, 0.05)
	fmt.Println(spans, err)
	fmt.Printf("%.1f %% %.1f %%\n", 100-100*skin.RadiusFactor(0.5, math.Pi/6), 100-100*skin.RadiusFactor(0.5, math.Pi/4))
	// Output:
	// 3 <nil>
	// 3.4 % 7.6 %
}
