package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/pronate/pronate/rest"
)

// genSoup draws a mesh as a broken exporter might write it: few places, many of
// them equal or in line, triangles that share edges as they like, indices out of
// range, numbers that are none.
func genSoup() *rapid.Generator[Mesh] {
	return rapid.Custom(func(t *rapid.T) Mesh {
		numbers := []float64{0, 0, 0.5, 1, -1, 1e-300, 1e150}
		low, high := 0, -1
		if rapid.IntRange(0, 3).Draw(t, "broken") == 0 {
			numbers = append(numbers, math.NaN(), math.Inf(1), -1, 1e308)
			low, high = -1, 0
		}
		number := rapid.SampledFrom(numbers)
		var m Mesh
		n := rapid.IntRange(1, 12).Draw(t, "vertices")
		for range n {
			m.Positions = append(m.Positions, r3.Vec{X: number.Draw(t, "x"), Y: number.Draw(t, "y"), Z: number.Draw(t, "z")})
			m.Influences = append(m.Influences, rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Influence {
				return Influence{rapid.IntRange(low, 2+high).Draw(t, "joint"), number.Draw(t, "weight")}
			}), 0, 3).Draw(t, "influences"))
		}
		corner := rapid.IntRange(low, n+high)
		for range rapid.IntRange(0, 24).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int{corner.Draw(t, "a"), corner.Draw(t, "b"), corner.Draw(t, "c")})
		}
		return m
	})
}

// Whatever the mesh, nothing panics: what does not pass Check is refused or
// answered with NaN, the rest is measured.
func nothingPanics(t *rapid.T) {
	m := genSoup().Draw(t, "mesh")
	frames := []rest.Frame{genRigid().Draw(t, "f"), {Rotation: quat.Number{Real: rapid.SampledFrom([]float64{0, 1, math.NaN()}).Draw(t, "w")}}}
	_ = m.Check(len(frames)) // whatever it says: weights are drawn at random
	linear := Linear(nil, m, matrices(frames))
	dual := DualQuaternion(nil, m, frames)
	require.Len(t, dual, len(linear))
	a, b := m.Sides([]int{0}, []int{1})
	marks := m.TrianglesOf(nil, 0)
	Strains(nil, m.Positions, linear, m.Triangles)
	EdgeStretches(nil, m.Positions, linear, m.Triangles)

	unskinned := Mesh{Positions: m.Positions, Triangles: m.Triangles}
	bad := unskinned.Check(0)
	bone := Bone{End: r3.Vec{Z: 1}}
	s, err := NewSections(m, marks, bone, []float64{0, 0.25, 1})
	require.Equal(t, bad != nil, err != nil, "%v", bad)
	v, err := NewVolume(m, marks, bone, 0, 0.75)
	require.Equal(t, bad != nil, err != nil, "%v", bad)
	f, err := NewFold(m, a, b, Hinge{Radius: 10, Join: 0.1})
	require.Equal(t, bad != nil, err != nil, "%v", bad)
	if bad != nil {
		return
	}
	for _, posed := range [][]r3.Vec{m.Positions, linear, dual} {
		TwistDensity(nil, s.Measure(nil, posed, frames[1].Rotation))
		v.Measure(posed)
		_, depth := f.Measure(nil, posed)
		require.GreaterOrEqual(t, depth.Worst, 0.0)
	}
	// At rest nothing is deeper than at rest.
	_, depth := f.Measure(nil, m.Positions)
	require.Equal(t, Depth{Vertex: -1}, depth)
}

func TestNothingPanics(t *testing.T) { rapid.Check(t, nothingPanics) }
func FuzzNothingPanics(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nothingPanics)) }

// A posed mesh with another number of vertices is a slip of the program.
func TestPosedMeshMustMatch(t *testing.T) {
	m, a, b := boxes(0)
	s := mustSections(t, m, nil, upright, []float64{0.5})
	v := mustVolume(t, m, nil, upright, 0, 1)
	f := mustFold(t, m, a, b, Hinge{Radius: 1})
	const want = "skin: 3 posed vertices, expected 16 as at rest"
	short := m.Positions[:3]
	require.PanicsWithValue(t, want, func() { s.Measure(nil, short, quat.Number{}) })
	require.PanicsWithValue(t, want, func() { s.Outline(nil, 0, short) })
	require.PanicsWithValue(t, want, func() { v.Measure(short) })
	require.PanicsWithValue(t, want, func() { f.Measure(nil, short) })
}
