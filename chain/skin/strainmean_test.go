package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// hose is a tube of 13 rings of 10 vertices, 0.1 wide and 1 long in z, without
// caps, and how much of each vertex belongs to the far end.
func hose() (points []r3.Vec, far []float64, triangles [][3]int) {
	const rings, corners = 13, 10
	for ring := range rings {
		for corner := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(corner) / corners)
			z := float64(ring) / (rings - 1)
			points = append(points, r3.Vec{X: 0.1 * cos, Y: 0.1 * sin, Z: z})
			far = append(far, min(max((z-0.3)/0.4, 0), 1))
			if ring > 0 {
				a, b := (ring-1)*corners+corner, (ring-1)*corners+(corner+1)%corners
				triangles = append(triangles, [3]int{a, b, b + corners}, [3]int{a, b + corners, a + corners})
			}
		}
	}
	return points, far, triangles
}

// posedHose moves what belongs to the far end, and blends.
func posedHose(points []r3.Vec, far []float64, move func(r3.Vec) r3.Vec) []r3.Vec {
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		out[i] = r3.Add(p, r3.Scale(far[i], r3.Sub(move(p), p)))
	}
	return out
}

func about(axis r3.Vec, degrees float64, centre r3.Vec) func(r3.Vec) r3.Vec {
	turn := r3.NewRotation(degrees*math.Pi/180, axis)
	return func(p r3.Vec) r3.Vec { return r3.Add(centre, turn.Rotate(r3.Sub(p, centre))) }
}

// The expected values are those of the client's reference measure, the function
// strain of tools/strain/skinning.py (numpy), of the same mesh in the same poses:
// bent by 90 degrees; twisted by 150 and 2.5 times as large; twisted by 90 and
// drawn to three times its length, where some stretches exceed 3. With man.glb,
// which is not here, the two agreed within 1.1e-6 of the value in three poses:
// arm raised 85 .004834, thigh raised 90 .037969, thigh twisted 90 .037303 (the
// bind shape from inverse bind matrices against the nodes' pose).
func TestMeanStrainIsThatOfTheReference(t *testing.T) {
	points, far, triangles := hose()
	bent := posedHose(points, far, about(r3.Vec{X: 1}, 90, r3.Vec{Z: 0.5}))
	large := posedHose(points, far, about(r3.Vec{Z: 1}, 150, r3.Vec{}))
	for i := range large {
		large[i] = r3.Scale(2.5, large[i])
	}
	turned := about(r3.Vec{Z: 1}, 90, r3.Vec{})
	drawn := posedHose(points, far, func(p r3.Vec) r3.Vec { return r3.Add(turned(p), r3.Vec{Z: 2}) })

	// Both sum 240 terms that are right to some 1e3 eps each.
	const tolerance = 1e-12
	m := NewStrainMean(points, triangles)
	for _, c := range []struct {
		posed []r3.Vec
		want  float64
	}{{bent, 0.046918360178520274}, {large, 0.10646385524542494}, {drawn, 1.727958541057139}} {
		require.InDelta(t, c.want, m.Of(Strains(nil, points, c.posed, triangles)), tolerance)
	}
	require.InDelta(t, 0, m.Of(Strains(nil, points, points, triangles)), tolerance)
}

// By hand: two right triangles, of areas 1/2 and 3/2, the second stretched to
// twice its length. The median root of Least Most is (1+sqrt 2)/2.
func TestMeanStrainByHand(t *testing.T) {
	points := []r3.Vec{{}, {X: 1}, {Y: 1}, {X: 5}, {X: 8}, {X: 5, Y: 1}}
	posed := []r3.Vec{{}, {X: 1}, {Y: 1}, {X: 5}, {X: 11}, {X: 5, Y: 1}}
	triangles := [][3]int{{0, 1, 2}, {3, 4, 5}}
	k := (1 + math.Sqrt2) / 2
	square := func(x float64) float64 { return x * x }
	want := (0.5*2*square(1/k-1) + 1.5*(square(1/k-1)+square(2/k-1))) / 2
	require.InDelta(t, want, NewStrainMean(points, triangles).Of(Strains(nil, points, posed, triangles)), 16*eps)
}

func TestMeanStrainSpecialCases(t *testing.T) {
	points := []r3.Vec{{}, {X: 1}, {Y: 1}, {X: math.NaN()}}
	flatToo := [][3]int{{0, 1, 2}, {0, 1, 1}, {0, 1, 3}, {0, 1, 9}}
	m := NewStrainMean(points, flatToo)
	posed := []r3.Vec{{}, {X: 1}, {Y: 1}, {}}
	require.Zero(t, m.Of(Strains(nil, points, posed, flatToo)), "what has no area at rest does not count")
	require.InDelta(t, 2, m.Of(Strains(nil, points, make([]r3.Vec, 4), flatToo)), 0, "pressed to a point")
	require.True(t, math.IsNaN(m.Of(Strains(nil, points, []r3.Vec{{}, {X: math.NaN()}, {Y: 1}, {}}, flatToo))))
	require.True(t, math.IsNaN(m.Of(nil)), "strains of another mesh")
	require.Zero(t, NewStrainMean(nil, nil).Of(nil))
}

func TestMeanStrainAllocatesNothing(t *testing.T) {
	points, far, triangles := hose()
	m := NewStrainMean(points, triangles)
	strains := Strains(nil, points, posedHose(points, far, about(r3.Vec{Z: 1}, 60, r3.Vec{})), triangles)
	require.Zero(t, testing.AllocsPerRun(10, func() { m.Of(strains) }))
}
