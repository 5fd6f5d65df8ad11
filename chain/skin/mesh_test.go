package skin

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/pronate/pronate/rest"
)

// upright is the tube's bone.
var upright = Bone{End: r3.Vec{Z: 1}}

// mesh is the tube as a mesh, with weights by the place along it.
func (m tube) mesh(weights func(z float64) []Influence) Mesh {
	out := Mesh{Positions: m.points}
	for _, p := range m.points {
		out.Influences = append(out.Influences, weights(p.Z))
	}
	at := func(ring, corner int) int { return ring*m.corners + corner%m.corners }
	last := m.rings - 1
	bottom, top := len(m.points)-2, len(m.points)-1
	for corner := range m.corners {
		for ring := range last {
			a, b := at(ring, corner), at(ring, corner+1)
			c, d := at(ring+1, corner+1), at(ring+1, corner)
			out.Triangles = append(out.Triangles, [3]int{a, b, c}, [3]int{a, c, d})
		}
		out.Triangles = append(out.Triangles,
			[3]int{bottom, at(0, corner+1), at(0, corner)}, [3]int{top, at(last, corner), at(last, corner+1)})
	}
	return out
}

// along are a basis' weights along the tube.
func along(b Basis, segments int) func(float64) []Influence {
	return func(z float64) []Influence {
		w := make([]float64, segments)
		b.Weights(w, z)
		var out []Influence
		for joint, weight := range w {
			if weight > 0 {
				out = append(out, Influence{joint, weight})
			}
		}
		return out
	}
}

// smoothly hands the tube over from joint 0 to joint 1 by 3z² - 2z³.
func smoothly(z float64) []Influence {
	w := z * z * (3 - 2*z)
	return []Influence{{0, 1 - w}, {1, w}}
}

func turned(axis r3.Vec, angle float64) quat.Number {
	sin, cos := math.Sincos(angle / 2)
	axis = r3.Scale(sin/r3.Norm(axis), axis)
	return quat.Number{Real: cos, Imag: axis.X, Jmag: axis.Y, Kmag: axis.Z}
}

// wrung are joints that share a twist about z out evenly.
func wrung(joints int, twist float64) []rest.Frame {
	out := make([]rest.Frame, joints)
	for i := range out {
		out[i].Rotation = turned(r3.Vec{Z: 1}, twist*float64(i)/float64(max(joints-1, 1)))
	}
	return out
}

func matrices(frames []rest.Frame) []mgl64.Mat4 {
	out := make([]mgl64.Mat4, len(frames))
	for i, f := range frames {
		out[i] = f.Mat4()
	}
	return out
}

func moved(f rest.Frame, points []r3.Vec) []r3.Vec {
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		out[i] = f.Point(p)
	}
	return out
}

func genVec(size float64) *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		c := rapid.Float64Range(-size, size)
		return r3.Vec{X: c.Draw(t, "x"), Y: c.Draw(t, "y"), Z: c.Draw(t, "z")}
	})
}

// genRigid draws rigid motions, their ends as likely as their middle.
func genRigid() *rapid.Generator[rest.Frame] {
	return rapid.Custom(func(t *rapid.T) rest.Frame {
		axis := genVec(1).Draw(t, "axis")
		if r3.Norm(axis) < 1e-3 {
			axis = r3.Vec{Z: 1}
		}
		angle := rapid.OneOf(rapid.Float64Range(-math.Pi, math.Pi), rapid.SampledFrom([]float64{0, math.Pi / 2, math.Pi})).Draw(t, "angle")
		return rest.Frame{Position: genVec(3).Draw(t, "position"), Rotation: turned(axis, angle)}
	})
}

func requireNear(t require.TestingT, want, got []r3.Vec, tolerance float64, what ...any) {
	require.Len(t, got, len(want))
	for i := range want {
		if !(r3.Norm(r3.Sub(want[i], got[i])) <= tolerance) {
			require.Equal(t, want[i], got[i], what...)
		}
	}
}

// The mesh is the tube, triangle for triangle.
func TestTubeMesh(t *testing.T) {
	m := newTube(12, 5)
	mesh := m.mesh(smoothly)
	require.NoError(t, mesh.Check(2))
	want := map[[3]r3.Vec]int{}
	m.triangles(func(a, b, c r3.Vec) { want[[3]r3.Vec{a, b, c}]++ })
	for _, f := range mesh.Triangles {
		want[[3]r3.Vec{m.points[f[0]], m.points[f[1]], m.points[f[2]]}]--
	}
	for f, count := range want {
		require.Zero(t, count, "%v", f)
	}
}

func TestCheckNamesTheCulprit(t *testing.T) {
	good := func() Mesh {
		return Mesh{
			Positions:  []r3.Vec{{}, {X: 1}, {Y: 1}},
			Influences: [][]Influence{{{0, 1}}, {{0, 0.5}, {1, 0.5}}, nil},
			Triangles:  [][3]int{{0, 1, 2}},
		}
	}
	require.NoError(t, good().Check(2))
	require.NoError(t, Mesh{}.Check(0))
	tests := []struct {
		spoil func(m *Mesh)
		want  string
	}{
		{func(m *Mesh) { m.Positions[1].Y = math.NaN() }, "skin: vertex 1 is at {1 NaN 0}, expected finite coordinates"},
		{func(m *Mesh) { m.Positions[2].Z = math.Inf(-1) }, "skin: vertex 2 is at {0 1 -Inf}, expected finite coordinates"},
		{func(m *Mesh) { m.Influences = m.Influences[:2] }, "skin: 2 lists of influences, expected one for each of 3 vertices"},
		{func(m *Mesh) { m.Influences[1][1].Joint = 2 }, "skin: vertex 1, influence 1: joint 2, expected one of 2"},
		{func(m *Mesh) { m.Influences[1][0].Joint = -1 }, "skin: vertex 1, influence 0: joint -1, expected one of 2"},
		{func(m *Mesh) { m.Influences[0][0].Weight = -0.5 }, "skin: vertex 0, influence 0 (joint 0): weight -0.5, expected 0 to 1"},
		{func(m *Mesh) { m.Influences[0][0].Weight = math.NaN() }, "skin: vertex 0, influence 0 (joint 0): weight NaN, expected 0 to 1"},
		{func(m *Mesh) { m.Influences[1][0].Weight = 0.25 }, "skin: vertex 1: weights add up to 0.75, expected 1"},
		{func(m *Mesh) { m.Triangles[0][2] = 3 }, "skin: triangle 0: vertex 3, expected one of 3"},
		{func(m *Mesh) { m.Triangles[0][0] = -1 }, "skin: triangle 0: vertex -1, expected one of 3"},
	}
	for _, test := range tests {
		m := good()
		test.spoil(&m)
		require.EqualError(t, m.Check(2), test.want)
	}
}

// Four 8-bit weights, each half a step off, pass; half a step more does not.
func TestCheckWeightSum(t *testing.T) {
	const step = 1.0 / 255
	m := Mesh{Positions: make([]r3.Vec, 1), Influences: [][]Influence{{{0, 1 - 1.99*step}}}}
	require.NoError(t, m.Check(1))
	m.Influences[0][0].Weight = 1 - 2.01*step
	require.Error(t, m.Check(1))
}
