package skin

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/pronate/pronate/rest"
)

// skinTolerance is for points within some ten metres: 10 m times some 50
// roundings of half an eps.
const skinTolerance = 250 * eps

// The sum as it stands in the standard: Σ w M p (glTF 2.0, 3.7.3), by mathgl's
// matrices, with scale and shear.
func linearIsTheBooks(t *rapid.T) {
	entry := rapid.Float64Range(-2, 2)
	joints := make([]mgl64.Mat4, 4)
	for j := range joints {
		for i := range joints[j] {
			if i%4 != 3 {
				joints[j][i] = entry.Draw(t, "entry")
			}
		}
		joints[j][15] = 1
	}
	list := genInfluences(len(joints)).Draw(t, "influences")
	p := genVec(1).Draw(t, "p")
	var want mgl64.Vec4
	for _, held := range list {
		want = want.Add(joints[held.Joint].Mul4x1(mgl64.Vec4{p.X, p.Y, p.Z, 1}).Mul(held.Weight))
	}
	got := Linear(nil, Mesh{Positions: []r3.Vec{p}, Influences: [][]Influence{list}}, joints)
	requireNear(t, []r3.Vec{{X: want[0], Y: want[1], Z: want[2]}}, got, skinTolerance)
}

// genInfluences draws one to four influences that add up to 1.
func genInfluences(joints int) *rapid.Generator[[]Influence] {
	return rapid.Custom(func(t *rapid.T) []Influence {
		out := make([]Influence, rapid.IntRange(1, 4).Draw(t, "count"))
		var whole float64
		for i := range out {
			out[i] = Influence{rapid.IntRange(0, joints-1).Draw(t, "joint"), rapid.Float64Range(0.01, 1).Draw(t, "weight")}
			whole += out[i].Weight
		}
		for i := range out {
			out[i].Weight /= whole
		}
		return out
	})
}

func TestLinearIsTheBooks(t *testing.T) { rapid.Check(t, linearIsTheBooks) }
func FuzzLinearIsTheBooks(f *testing.F) { f.Fuzz(rapid.MakeFuzz(linearIsTheBooks)) }

// What both skinnings keep: identities leave the mesh to the last bit; joints
// that moved as one move the mesh as one; the character moved as a whole takes
// its skin along; how the weights are scaled does not matter; one joint is
// itself, whichever skinning.
func skinningLaws(t *rapid.T) {
	joints := make([]rest.Frame, 4)
	for j := range joints {
		joints[j] = genRigid().Draw(t, "joint")
	}
	whole := genRigid().Draw(t, "whole")
	m := Mesh{}
	for range 3 {
		m.Positions = append(m.Positions, genVec(2).Draw(t, "p"))
		m.Influences = append(m.Influences, genInfluences(len(joints)).Draw(t, "influences"))
	}
	linear := func(m Mesh, joints []rest.Frame) []r3.Vec { return Linear(nil, m, matrices(joints)) }
	dual := func(m Mesh, joints []rest.Frame) []r3.Vec { return DualQuaternion(nil, m, joints) }

	after := make([]rest.Frame, len(joints))
	for j := range joints {
		after[j] = whole.Mul(joints[j])
	}
	one := []rest.Frame{joints[0], joints[0], joints[0], joints[0]}
	for name, skinned := range map[string]func(Mesh, []rest.Frame) []r3.Vec{"linear": linear, "dual quaternion": dual} {
		require.Equal(t, m.Positions, skinned(m, make([]rest.Frame, 4)), "%s: identity", name)
		requireNear(t, moved(joints[0], m.Positions), skinned(m, one), skinTolerance, "%s: as one", name)

		scaled := Mesh{Positions: m.Positions}
		for _, list := range m.Influences {
			var out []Influence
			for _, held := range list {
				out = append(out, Influence{held.Joint, 4 * held.Weight})
			}
			scaled.Influences = append(scaled.Influences, out)
		}
		// A blend of half turns that all but cancel has no direction to keep.
		if slack := loosest(m, joints); slack > 1e-3 || name == "linear" {
			requireNear(t, moved(whole, skinned(m, joints)), skinned(m, after), 4*skinTolerance/min(1, slack*slack), "%s: moved as a whole", name)
			requireNear(t, skinned(m, joints), skinned(scaled, joints), skinTolerance/min(1, slack*slack), "%s: weights scaled", name)
		}
	}
	require.Equal(t, linear(m, one), moved64(joints[0], m.Positions), "one matrix, to the last bit")
}

// moved64 moves by the matrix, as linear blending does.
func moved64(f rest.Frame, points []r3.Vec) []r3.Vec {
	m := f.Mat4()
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		out[i] = apply(&m, p)
	}
	return out
}

// loosest is how near to nothing the quaternions of a vertex blend, and how
// near to a right angle (in four dimensions) one of them is to the pivot's,
// where the side it is taken on hangs on rounding.
func loosest(m Mesh, joints []rest.Frame) float64 {
	least := 1.0
	for _, list := range m.Influences {
		for _, a := range list {
			for _, b := range list {
				least = min(least, math.Abs(dot4(joints[a.Joint].Rotation, joints[b.Joint].Rotation)))
			}
		}
	}
	return least
}

func TestSkinningLaws(t *testing.T) { rapid.Check(t, skinningLaws) }
func FuzzSkinningLaws(f *testing.F) { f.Fuzz(rapid.MakeFuzz(skinningLaws)) }

func TestSkinningOfWhatIsNotHeld(t *testing.T) {
	p := r3.Vec{X: 1, Y: 2, Z: 3}
	joints := []rest.Frame{{Position: r3.Vec{X: 5}}}
	for name, list := range map[string][]Influence{"no list": nil, "no weight": {{0, 0}}, "not a number": {{0, math.NaN()}}} {
		m := Mesh{Positions: []r3.Vec{p}, Influences: [][]Influence{list}}
		require.Equal(t, []r3.Vec{p}, Linear(nil, m, matrices(joints)), name)
		require.Equal(t, []r3.Vec{p}, DualQuaternion(nil, m, joints), name)
	}
	for _, joint := range []int{-1, 1} {
		m := Mesh{Positions: []r3.Vec{p, p}, Influences: [][]Influence{{{0, 0.5}, {joint, 0.5}}}}
		got := Linear(nil, m, matrices(joints))
		require.True(t, math.IsNaN(got[0].X), "joint %d", joint)
		require.Equal(t, p, got[1], "fewer lists than vertices")
		got = DualQuaternion(nil, m, joints)
		require.True(t, math.IsNaN(got[0].X), "joint %d", joint)
		require.Equal(t, p, got[1], "fewer lists than vertices")
	}
}

func TestSkinningInPlace(t *testing.T) {
	m := newTube(16, 9).mesh(along(Cubic, 4))
	frames := wrung(4, 1)
	want := Linear(nil, m, matrices(frames))
	dual := DualQuaternion(nil, m, frames)
	m.Positions = append([]r3.Vec(nil), m.Positions...)
	before := append([]r3.Vec(nil), m.Positions...)
	require.Equal(t, want, Linear(m.Positions, m, matrices(frames)))
	copy(m.Positions, before)
	require.Equal(t, dual, DualQuaternion(m.Positions, m, frames))
}

func TestSkinningAllocatesNothing(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector moves to the heap what else stays on the stack")
	}
	m := newTube(16, 9).mesh(along(Cubic, 4))
	frames := wrung(4, 1)
	joints := matrices(frames)
	dst := make([]r3.Vec, len(m.Positions))
	require.Zero(t, testing.AllocsPerRun(20, func() {
		dst = Linear(dst, m, joints)
		frames, _ = Rigid(frames, joints, nil)
		dst = DualQuaternion(dst, m, frames)
	}))
}

// fifty is a tube of 50,002 vertices with up to four influences each.
func fifty() (Mesh, []rest.Frame) { return newTube(200, 250).mesh(along(Cubic, 6)), wrung(6, 2) }

func BenchmarkLinear(b *testing.B) {
	m, frames := fifty()
	joints := matrices(frames)
	dst := make([]r3.Vec, len(m.Positions))
	b.ReportAllocs()
	for b.Loop() {
		dst = Linear(dst, m, joints)
	}
}

func BenchmarkDualQuaternion(b *testing.B) {
	m, frames := fifty()
	dst := make([]r3.Vec, len(m.Positions))
	b.ReportAllocs()
	for b.Loop() {
		dst = DualQuaternion(dst, m, frames)
	}
}
