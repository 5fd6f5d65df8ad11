package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// sameToRounding is how far the quick and the plain way may be apart, for places
// of a few metres: ten thousand roundings. A vertex that only one of them finds
// inside is so far off, unless it is that near the surface.
const sameToRounding = 1e-12

func plainlyNearest(triangles [][3]r3.Vec, p r3.Vec) float64 {
	least := math.Inf(1)
	for _, c := range triangles {
		least = min(least, r3.Norm(r3.Sub(p, nearestOn(c[0], c[1], c[2], p))))
	}
	return least
}

// Any triangles whatever between the corners of a small grid, closed by fans:
// they cross, lie in one another, are slivers or lines, wind round a point many
// times or the other way. Points of the grid and half way between them lie on
// corners, edges, faces and in line with all of these.
func treeOfSoup(t *rapid.T) {
	var m Mesh
	for k := range 27 {
		m.Positions = append(m.Positions, r3.Vec{X: float64(k % 3), Y: float64(k / 3 % 3), Z: float64(k / 9)})
	}
	corner := rapid.IntRange(0, 26)
	for range rapid.IntRange(0, 60).Draw(t, "triangles") {
		m.Triangles = append(m.Triangles, [3]int{corner.Draw(t, "a"), corner.Draw(t, "b"), corner.Draw(t, "c")})
	}
	shell := wholeShell(m, welded(m.Positions))
	tree := newTree(shell.triangles(nil, m.Positions))
	point := func(number *rapid.Generator[float64]) r3.Vec {
		return r3.Vec{X: number.Draw(t, "x"), Y: number.Draw(t, "y"), Z: number.Draw(t, "z")}
	}
	half := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(0, 4).Draw(t, "halves")) / 2 })
	for range 20 {
		p := point(half)
		require.Equal(t, isInside(tree.triangles, p), tree.contains(p), "%v, on the grid", p)
		p = point(rapid.OneOf(half, rapid.Float64Range(-0.5, 2.5)))
		want := plainlyNearest(tree.triangles, p)
		if len(tree.triangles) > 0 {
			require.InDelta(t, want, tree.nearest(p), sameToRounding, "%v", p)
		}
		if want > sameToRounding {
			require.Equal(t, isInside(tree.triangles, p), tree.contains(p), "%v", p)
		}
	}
}

func TestTreeOfSoup(t *testing.T) { rapid.Check(t, treeOfSoup) }
func FuzzTreeOfSoup(f *testing.F) { f.Fuzz(rapid.MakeFuzz(treeOfSoup)) }

// What stands before the place chosen is no larger, what stands after it no
// smaller, and nothing is lost.
func chooses(t *rapid.T) {
	key := rapid.SliceOfN(rapid.SampledFrom([]float64{-1, 0, 0.5, 1, 2, 3, 4}), 1, 40).Draw(t, "key")
	run, k := make([]int, len(key)), rapid.IntRange(0, len(key)-1).Draw(t, "k")
	want := make([]int, len(key))
	for i := range run {
		run[i], want[i] = i, i
	}
	choose(run, key, k)
	for place, i := range run {
		if place < k {
			require.LessOrEqual(t, key[i], key[run[k]])
		} else {
			require.GreaterOrEqual(t, key[i], key[run[k]])
		}
	}
	require.ElementsMatch(t, want, run)
}

func TestChooses(t *testing.T) { rapid.Check(t, chooses) }
func FuzzChooses(f *testing.F) { f.Fuzz(rapid.MakeFuzz(chooses)) }
