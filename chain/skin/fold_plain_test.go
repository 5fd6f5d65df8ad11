package skin

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// plainly is how deep a point lies in a closed surface by all of its triangles,
// 0 outside.
func plainly(triangles [][3]r3.Vec, p r3.Vec) float64 {
	if !isInside(triangles, p) {
		return 0
	}
	return plainlyNearest(triangles, p)
}

// foldsAsPlainly wants the depths of a fold to be those by all triangles, and
// what the hinge exempts to be what all vertices of the other part exempt.
func foldsAsPlainly(t *rapid.T, m Mesh, a, b []bool, hinge Hinge, posed []r3.Vec) {
	f := mustFold(t, m, a, b, hinge)
	got, _ := f.Measure(nil, posed)
	weld := welded(m.Positions)
	part := func(marks []bool) (triangles [][3]int) {
		for i, c := range m.Triangles {
			if marks[i] {
				triangles = append(triangles, c)
			}
		}
		return triangles
	}
	sides := [2]Mesh{}
	for side, marks := range [2][]bool{a, b} {
		sides[side] = Mesh{Positions: m.Positions, Triangles: part(marks)}.near(hinge)
	}
	for side := range sides {
		exempt, own := map[int]bool{}, map[int]bool{}
		for _, c := range sides[side].Triangles {
			for _, v := range c {
				own[v] = true
				for _, d := range sides[1-side].Triangles {
					for _, w := range d {
						distance := r3.Norm(r3.Sub(m.Positions[v], m.Positions[w]))
						exempt[v] = exempt[v] || weld[v] == weld[w] || hinge.Join > 0 && distance <= hinge.Join
					}
				}
			}
		}
		other := wholeShell(sides[1-side], weld)
		rest, bent := other.triangles(nil, m.Positions), other.triangles(nil, posed)
		for v := range own {
			if exempt[v] {
				require.Zero(t, got[v])
				continue
			}
			deep := plainly(bent, posed[v])
			want := max(deep-plainly(rest, m.Positions[v]), 0)
			require.InDelta(t, want, got[v], sameToRounding, "vertex %d", v)
		}
	}
}

// Tubes, bent as far as they may, lying any way round: along the ray too.
func bentTubesFoldAsPlainly(t *rapid.T) {
	m := elbow(rapid.IntRange(3, 12).Draw(t, "corners"), rapid.IntRange(3, 20).Draw(t, "rings"))
	a, b := m.Sides([]int{0}, []int{1})
	posed := Linear(nil, m, matrices(bent(rapid.Float64Range(0, 180).Draw(t, "degrees"))))
	for range rapid.IntRange(0, 2).Draw(t, "lying") {
		for v := range posed {
			m.Positions[v], posed[v] = roundabout(m.Positions[v]), roundabout(posed[v])
		}
	}
	if rapid.Bool().Draw(t, "askew") {
		posed = moved(genRigid().Draw(t, "f"), posed)
	}
	hinge := Hinge{Radius: rapid.Float64Range(1, 5).Draw(t, "radius"), Join: rapid.SampledFrom([]float64{0, 0.1, 0.5, 1}).Draw(t, "join")}
	foldsAsPlainly(t, m, a, b, hinge, posed)
}

func TestBentTubesFoldAsPlainly(t *testing.T) { rapid.Check(t, bentTubesFoldAsPlainly) }
func FuzzBentTubesFoldAsPlainly(f *testing.F) { f.Fuzz(rapid.MakeFuzz(bentTubesFoldAsPlainly)) }

// roundabout turns by 120 degrees about the diagonal of the axes.
func roundabout(p r3.Vec) r3.Vec { return r3.Vec{X: p.Y, Y: p.Z, Z: p.X} }

// Boxes pushed into one another by round numbers, so that corners, edges and
// faces meet exactly, or moved anywhere.
func boxesFoldAsPlainly(t *rapid.T) {
	gap := rapid.SampledFrom([]float64{-0.5, -0.125, 0, 0.5}).Draw(t, "gap")
	m, a, b := boxes(gap)
	corners := r3.Norm(r3.Vec{X: gap, Y: 0.25, Z: 0.25}) // from one box' to the other's
	eighth := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(-12, 12).Draw(t, "eighths")) / 8 })
	number := rapid.OneOf(eighth, rapid.Float64Range(-1.5, 1.5))
	by := r3.Vec{X: number.Draw(t, "x"), Y: number.Draw(t, "y"), Z: number.Draw(t, "z")}
	posed := pushed(m, 0)
	for v := 8; v < 16; v++ {
		posed[v] = r3.Add(posed[v], by)
	}
	foldsAsPlainly(t, m, a, b, Hinge{Radius: 5, Join: rapid.SampledFrom([]float64{0, 0.25, corners, 0.75}).Draw(t, "join")}, posed)
}

func TestBoxesFoldAsPlainly(t *testing.T) { rapid.Check(t, boxesFoldAsPlainly) }
func FuzzBoxesFoldAsPlainly(f *testing.F) { f.Fuzz(rapid.MakeFuzz(boxesFoldAsPlainly)) }
