package skin_test

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// sleeve is a tube along X from 0 to 0.3 metres, of radius 0.05 and open at both
// ends, whose skin passes from joint 0 to joint 1 along the way.
func sleeve() skin.Mesh {
	const around, along = 16, 9
	var m skin.Mesh
	for i := range along {
		u := float64(i) / (along - 1)
		for j := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / around)
			m.Positions = append(m.Positions, r3.Vec{X: 0.3 * u, Y: 0.05 * cos, Z: 0.05 * sin})
			m.Influences = append(m.Influences, []skin.Influence{{Joint: 0, Weight: 1 - u}, {Joint: 1, Weight: u}})
			if i > 0 {
				a, b := i*around+j, i*around+(j+1)%around
				m.Triangles = append(m.Triangles, [3]int{a, b - around, b}, [3]int{a, a - around, b - around})
			}
		}
	}
	return m
}

// Of a twist of 90 degrees, half way between two joints, linear blending leaves 71 %
// of the radius. With one more joint between the two, 92 %.
func ExampleRadiusFactor() {
	fmt.Printf("%.2f %.2f\n", skin.RadiusFactor(0.5, math.Pi/2), skin.RadiusFactor(0.5, math.Pi/4))
	// Output: 0.71 0.92
}

// How many segments lose no more than 5 % of the radius to a twist of 90 degrees.
func ExampleSegments() {
	n, err := skin.Segments(math.Pi/2, 0.05)
	fmt.Println(n, err)
	_, err = skin.Segments(math.Pi/2, 0)
	fmt.Println(err)
	// Output:
	// 4 <nil>
	// skin: loss = 0, expected a fraction above 0, at most 1
}

// Skin between two joints, one of which turns by 90 degrees: the middle shrinks.
func ExampleLinear() {
	m := sleeve()
	if err := m.Check(2); err != nil {
		fmt.Println(err)
		return
	}
	turned := mgl64.HomogRotate3DX(math.Pi / 2)
	posed := skin.Linear(nil, m, []mgl64.Mat4{mgl64.Ident4(), turned})
	for _, ring := range []int{0, 4, 8} {
		at := posed[16*ring]
		fmt.Printf("%.2f m: radius %.4f\n", at.X, math.Hypot(at.Y, at.Z))
	}
	// Output:
	// 0.00 m: radius 0.0500
	// 0.15 m: radius 0.0354
	// 0.30 m: radius 0.0500
}

// The same, blended as rigid motions: nothing shrinks.
func ExampleDualQuaternion() {
	m := sleeve()
	turned := mgl64.HomogRotate3DX(math.Pi / 2)
	motions, dropped := skin.Rigid(nil, []mgl64.Mat4{mgl64.Ident4(), turned}, nil)
	posed := skin.DualQuaternion(nil, m, motions)
	middle := posed[16*4]
	fmt.Printf("radius %.4f, stretch dropped %.0f\n", math.Hypot(middle.Y, middle.Z), dropped)
	// Output: radius 0.0500, stretch dropped 0
}

// Cuts across a forearm, followed to a pose: what is left of the radius and how far
// the skin has turned.
func ExampleNewSections() {
	m, bone := sleeve(), skin.Bone{End: r3.Vec{X: 0.3}}
	sections, err := skin.NewSections(m, nil, bone, []float64{0, 0.5, 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	posed := skin.Linear(nil, m, []mgl64.Mat4{mgl64.Ident4(), mgl64.HomogRotate3DX(math.Pi / 2)})
	for _, s := range sections.Measure(nil, posed, quat.Number{}) {
		fmt.Printf("%.1f: radius %.2f, turned by %.0f degrees\n", s.Station, s.Radius, s.Turn*180/math.Pi)
	}
	// Output:
	// 0.0: radius 1.00, turned by 0 degrees
	// 0.5: radius 0.71, turned by 45 degrees
	// 1.0: radius 1.00, turned by 90 degrees
}

// What a twist takes off the volume between two places along the bone.
func ExampleNewVolume() {
	m, bone := sleeve(), skin.Bone{End: r3.Vec{X: 0.3}}
	volume, err := skin.NewVolume(m, nil, bone, 0.25, 0.75)
	if err != nil {
		fmt.Println(err)
		return
	}
	posed := skin.Linear(nil, m, []mgl64.Mat4{mgl64.Ident4(), mgl64.HomogRotate3DX(math.Pi / 2)})
	fmt.Printf("%.2f litres, of which %.0f %% are left\n", 1000*volume.Rest(), 100*volume.Ratio(posed))
	// Output: 1.15 litres, of which 55 % are left
}

// A triangle drawn out to twice its height and half its width.
func ExampleStrains() {
	flat := []r3.Vec{{}, {X: 1}, {Y: 1}}
	posed := []r3.Vec{{}, {X: 0.5}, {Y: 2}}
	s := skin.Strains(nil, flat, posed, [][3]int{{0, 1, 2}})[0]
	fmt.Printf("most %.1f, least %.1f, area %.1f, squeezed by %.1f\n", s.Most, s.Least, s.Area, s.Squeeze())
	// Output: most 2.0, least 0.5, area 1.0, squeezed by 0.5
}

// Where along the bone the skin twists: more in the middle, where linear blending
// runs through the turn faster than the weights do.
func ExampleTwistDensity() {
	m, bone := sleeve(), skin.Bone{End: r3.Vec{X: 0.3}}
	sections, err := skin.NewSections(m, nil, bone, []float64{0, 0.25, 0.5, 0.75, 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	posed := skin.Linear(nil, m, []mgl64.Mat4{mgl64.Ident4(), mgl64.HomogRotate3DX(math.Pi / 2)})
	for _, density := range skin.TwistDensity(nil, sections.Measure(nil, posed, quat.Number{})) {
		fmt.Printf("%.1f ", density) // radians a metre
	}
	// Output: 4.3 6.2 6.2 4.3
}

func ExampleMesh_Check() {
	m := sleeve()
	fmt.Println(m.Check(2))
	fmt.Println(m.Check(1))
	// Output:
	// <nil>
	// skin: vertex 0, influence 1: joint 1, expected one of 1
}

// What affine matrices hold of rigid motions; of a joint that grows by a half the
// growth is dropped.
func ExampleRigid() {
	grown := mgl64.Translate3D(0, 0.1, 0).Mul4(mgl64.Scale3D(1.5, 1.5, 1.5))
	motions, dropped := skin.Rigid(nil, []mgl64.Mat4{mgl64.Ident4(), grown}, nil)
	fmt.Println(motions[1].Position, motions[1].Rotation)
	fmt.Printf("%.1f\n", dropped)
	// Output:
	// {0 0.1 0} (1+0i+0j+0k)
	// 0.5
}

// Marks say which triangles are a limb's, and which are on either side of a hinge.
func ExampleMesh_Sides() {
	count := func(marks []bool) (n int) {
		for _, marked := range marks {
			if marked {
				n++
			}
		}
		return n
	}
	m := sleeve()
	near, far := m.Sides([]int{0}, []int{1})
	fmt.Println(len(m.Triangles), count(near), count(far))
	fmt.Println(count(m.TrianglesOf(nil, 0, 1)))
	// Output:
	// 256 128 128
	// 256
}

// The size of a section at rest, and its outline in a pose, for drawing.
func ExampleSections_Outline() {
	m, bone := sleeve(), skin.Bone{End: r3.Vec{X: 0.3}}
	sections, err := skin.NewSections(m, nil, bone, []float64{0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d section, radius %.3f m, area %.4f m²\n", sections.Len(), sections.RestRadius(0), sections.RestArea(0))
	lines := sections.Outline(nil, 0, m.Positions)
	fmt.Printf("%d lines at %.2f m of %.2f\n", len(lines), lines[0][0].X, sections.Bone().Length())
	// Output:
	// 1 section, radius 0.050 m, area 0.0077 m²
	// 16 lines at 0.15 m of 0.30
}

// The edges of a triangle that is drawn out along Y.
func ExampleEdgeStretches() {
	flat := []r3.Vec{{}, {X: 1}, {Y: 1}}
	posed := []r3.Vec{{}, {X: 1}, {Y: 2}}
	fmt.Printf("%.2f\n", skin.EdgeStretches(nil, flat, posed, [][3]int{{0, 1, 2}})[0])
	// Output: [1.00 1.58 2.00]
}

// A twist of 90 degrees is to cost no more than 5 % of the radius: that takes four
// segments, to which the thigh, joint 2, hands its hold on a vertex half-way.
func Example() {
	n, err := skin.Segments(math.Pi/2, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	thigh := skin.Split{Joint: 2, U: 0.5}
	for i := range n {
		thigh.Segments = append(thigh.Segments, 10+i)
	}
	held, moved := skin.Replace(nil, []skin.Influence{{Joint: 2, Weight: 1}}, []skin.Split{thigh}, skin.Quadratic, 4)
	fmt.Println(n, "segments:", held, moved)
	// Output: 4 segments: [{11 0.5} {12 0.5}] 0
}
