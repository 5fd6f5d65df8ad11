package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/pronate/pronate/rest"
)

func mustFold(t require.TestingT, m Mesh, a, b []bool, hinge Hinge) *Fold {
	f, err := NewFold(m, a, b, hinge)
	require.NoError(t, err)
	return f
}

// elbow is a tube of radius 1 from z = -4 to 4 that hands over from joint 0 to
// joint 1 by 3u² - 2u³ from -1.2 to 1.2. In the plane half way between the two
// the inner skin meets where 3 tan(angle/2) = 2·1.2, at 77 degrees.
func elbow(corners, rings int) Mesh {
	const blend = 1.2
	m := newTube(corners, rings).mesh(along(Hat, 2))
	for i, p := range m.Positions {
		m.Positions[i].Z = 8*p.Z - 4
		m.Influences[i] = smoothly(min(max((m.Positions[i].Z+blend)/(2*blend), 0), 1))
	}
	return m
}

func bent(degrees float64) []rest.Frame {
	return []rest.Frame{{}, {Rotation: turned(r3.Vec{X: 1}, degrees*math.Pi/180)}}
}

// No depth until the inner skin meets, then more and more; both sides lie in
// one another alike.
func TestFoldOfAnElbow(t *testing.T) {
	m := elbow(32, 81)
	a, b := m.Sides([]int{0}, []int{1})
	f := mustFold(t, m, a, b, Hinge{Radius: 3.2})
	var depth []float64
	var before Depth
	for degrees := 0.0; degrees <= 140; degrees += 10 {
		var got Depth
		posed := Linear(nil, m, matrices(bent(degrees)))
		depth, got = f.Measure(depth, posed)
		t.Logf("%3.0f degrees: %.4f m, %d vertices inside", degrees, got.Worst, got.Inside)
		if degrees <= 70 {
			require.Equal(t, Depth{Vertex: -1}, got, "%v degrees", degrees)
			continue
		}
		require.Greater(t, got.Worst, before.Worst, "%v degrees", degrees)
		require.GreaterOrEqual(t, got.Inside, before.Inside, "%v degrees", degrees)
		require.Equal(t, got.Worst, depth[got.Vertex])
		require.Negative(t, m.Positions[got.Vertex].Y, "the inner skin")
		// Ring by ring mirrored at the hinge, but for the triangles' diagonals: to
		// a fifth of the distance between rings.
		for v := range 32 * 40 {
			other := (80-v/32)*32 + v%32
			require.InDelta(t, depth[v], depth[other], 0.02)
		}
		before = got
	}
	require.Greater(t, before.Worst, 0.2)
}

// The same wherever the character stands.
func foldMovedAsAWhole(t *rapid.T) {
	m := elbow(8, 17)
	a, b := m.Sides([]int{0}, []int{1})
	f := mustFold(t, m, a, b, Hinge{Radius: 3.2})
	posed := Linear(nil, m, matrices(bent(rapid.Float64Range(0, 140).Draw(t, "degrees"))))
	want, worst := f.Measure(nil, posed)
	got, again := f.Measure(nil, moved(genRigid().Draw(t, "f"), posed))
	require.InDelta(t, worst.Worst, again.Worst, 1e-12)
	require.InDeltaSlice(t, want, got, 1e-12)
}

func TestFoldMovedAsAWhole(t *testing.T) { rapid.Check(t, foldMovedAsAWhole) }
func FuzzFoldMovedAsAWhole(f *testing.F) { f.Fuzz(rapid.MakeFuzz(foldMovedAsAWhole)) }

// box is a closed box between two corners.
func box(low, high r3.Vec) Mesh {
	var m Mesh
	for k := range 8 {
		p := low
		if k&1 != 0 {
			p.X = high.X
		}
		if k&2 != 0 {
			p.Y = high.Y
		}
		if k&4 != 0 {
			p.Z = high.Z
		}
		m.Positions = append(m.Positions, p)
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int{q[0], q[1], q[2]}, [3]int{q[0], q[2], q[3]})
	}
	m.Influences = make([][]Influence, 8)
	return m
}

// boxes are a box of one metre, and a thinner one that touches it at x = 1 when
// gap is 0, with marks for both.
func boxes(gap float64) (m Mesh, a, b []bool) {
	m = joined(box(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1}), box(r3.Vec{X: 1 + gap, Y: 0.25, Z: 0.25}, r3.Vec{X: 2, Y: 0.75, Z: 0.75}))
	a, b = make([]bool, 24), make([]bool, 24)
	for i := range 12 {
		a[i], b[12+i] = true, true
	}
	return m, a, b
}

func pushed(m Mesh, by float64) []r3.Vec {
	out := append([]r3.Vec(nil), m.Positions...)
	for v := 8; v < 16; v++ {
		out[v].X -= by
	}
	return out
}

// Two boxes pushed into one another are as deep in one another as they were
// pushed, until another side is nearer.
func TestFoldOfBoxes(t *testing.T) {
	m, a, b := boxes(0.5)
	f := mustFold(t, m, a, b, Hinge{At: r3.Vec{X: 1}, Radius: 5})
	for _, push := range []float64{0, 0.5, 0.625, 0.75, 1} {
		depth, got := f.Measure(nil, pushed(m, push))
		want := min(max(push-0.5, 0), 0.25)
		require.InDelta(t, want, got.Worst, 4*eps, "pushed by %v", push)
		if want == 0 {
			require.Equal(t, Depth{Vertex: -1}, got)
			continue
		}
		require.Equal(t, 4, got.Inside)
		for _, v := range []int{8, 10, 12, 14} {
			require.InDelta(t, want, depth[v], 4*eps)
		}
		require.Contains(t, []int{8, 10, 12, 14}, got.Vertex)
	}
	// Out of the hinge's reach nothing is looked at.
	f = mustFold(t, m, a, b, Hinge{At: r3.Vec{X: 9}, Radius: 1})
	_, got := f.Measure(nil, pushed(m, 0.75))
	require.Equal(t, Depth{Vertex: -1}, got)
}

// What lies in the other part at rest counts from there; what lies near it at
// rest may be exempt.
func TestFoldAtRest(t *testing.T) {
	m, a, b := boxes(-0.125)
	f := mustFold(t, m, a, b, Hinge{Radius: 5})
	_, got := f.Measure(nil, m.Positions)
	require.Equal(t, Depth{Vertex: -1}, got)
	_, got = f.Measure(nil, pushed(m, 0.0625))
	require.InDelta(t, 0.0625, got.Worst, 4*eps)

	m, a, b = boxes(0.1)
	near := math.Sqrt(0.1*0.1 + 2*0.25*0.25) // from the thin box' corners to the other's
	for join, inside := range map[float64]int{0: 4, near - 1e-9: 4, near + 1e-9: 0} {
		f = mustFold(t, m, a, b, Hinge{Radius: 5, Join: join})
		_, got = f.Measure(nil, pushed(m, 0.2))
		require.Equal(t, inside, got.Inside, "join %v", join)
	}
}

// Nothing is inside a part that is not finite.
func TestFoldOfWhatIsNotFinite(t *testing.T) {
	m, a, b := boxes(0.5)
	f := mustFold(t, m, a, b, Hinge{Radius: 5})
	for v := range 8 {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			for _, at := range []r3.Vec{{X: bad}, {Y: bad}, {Z: bad}} {
				posed := pushed(m, 0.75)
				posed[v] = r3.Add(posed[v], at)
				_, got := f.Measure(nil, posed)
				require.Equal(t, Depth{Vertex: -1}, got, "vertex %d moved by %v", v, at)
			}
		}
	}
}

func TestNewFoldRefuses(t *testing.T) {
	m, a, b := boxes(0)
	_, err := NewFold(m, a, b, Hinge{})
	require.EqualError(t, err, "skin: hinge at {0 0 0}, radius 0, join 0, expected a finite point, above 0 and at least 0")
	_, err = NewFold(m, a, b[:3], Hinge{Radius: 1})
	require.EqualError(t, err, "skin: 3 marks, expected one for each of 24 triangles")
	b[2] = true
	_, err = NewFold(m, a, b, Hinge{Radius: 1})
	require.EqualError(t, err, "skin: triangle 2 is marked for both parts, expected one at most")
}

func TestFoldAllocatesNothing(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector moves to the heap what else stays on the stack")
	}
	m := elbow(8, 17)
	a, b := m.Sides([]int{0}, []int{1})
	f := mustFold(t, m, a, b, Hinge{Radius: 3})
	posed := Linear(nil, m, matrices(bent(120)))
	depth, _ := f.Measure(nil, posed)
	require.Zero(t, testing.AllocsPerRun(20, func() { depth, _ = f.Measure(depth, posed) }))
}

// elbows calls f with elbows of about as many triangles as named, bent far, all
// of them within the hinge's radius.
func elbows(b *testing.B, f func(b *testing.B, m Mesh, sides [2][]bool, hinge Hinge)) {
	for _, size := range []struct {
		name           string
		corners, rings int
	}{{"1k", 16, 32}, {"10k", 50, 100}, {"50k", 112, 224}} {
		m := elbow(size.corners, size.rings)
		sideA, sideB := m.Sides([]int{0}, []int{1})
		b.Run(size.name, func(b *testing.B) {
			b.ReportAllocs()
			f(b, m, [2][]bool{sideA, sideB}, Hinge{Radius: 5, Join: 0.4})
		})
	}
}

func BenchmarkNewFold(b *testing.B) {
	elbows(b, func(b *testing.B, m Mesh, sides [2][]bool, hinge Hinge) {
		for b.Loop() {
			mustFold(b, m, sides[0], sides[1], hinge)
		}
	})
}

func BenchmarkFold(b *testing.B) {
	elbows(b, func(b *testing.B, m Mesh, sides [2][]bool, hinge Hinge) {
		f := mustFold(b, m, sides[0], sides[1], hinge)
		posed := Linear(nil, m, matrices(bent(120)))
		depth := make([]float64, len(posed))
		for b.Loop() {
			depth, _ = f.Measure(depth, posed)
		}
	})
}
