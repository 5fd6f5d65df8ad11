package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// measureTolerance is for means over a tube's outline, relative to its size.
const measureTolerance = 1e-13

// spaced are n+1 stations from 0 to 1.
func spaced(n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = float64(i) / float64(n)
	}
	return out
}

func mustSections(t require.TestingT, m Mesh, limb []bool, bone Bone, stations []float64) *Sections {
	s, err := NewSections(m, limb, bone, stations)
	require.NoError(t, err)
	return s
}

// joined is two meshes as one.
func joined(a, b Mesh) Mesh {
	n := len(a.Positions)
	out := Mesh{Positions: append(append([]r3.Vec(nil), a.Positions...), b.Positions...)}
	out.Influences = append(append([][]Influence(nil), a.Influences...), b.Influences...)
	out.Triangles = append([][3]int(nil), a.Triangles...)
	for _, t := range b.Triangles {
		out.Triangles = append(out.Triangles, [3]int{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// beside is a mesh moved and made thinner.
func beside(m Mesh, by r3.Vec, thinner float64) Mesh {
	out := m
	out.Positions = make([]r3.Vec, len(m.Positions))
	for i, p := range m.Positions {
		out.Positions[i] = r3.Add(by, r3.Vec{X: thinner * p.X, Y: thinner * p.Y, Z: p.Z})
	}
	return out
}

// torn has vertices of its own for each triangle, as at a texture's seams, and
// reversed faces inwards.
func torn(m Mesh, reversed bool) Mesh {
	var out Mesh
	for _, t := range m.Triangles {
		n := len(out.Positions)
		for _, v := range t {
			out.Positions = append(out.Positions, m.Positions[v])
			out.Influences = append(out.Influences, m.Influences[v])
		}
		face := [3]int{n, n + 1, n + 2}
		if reversed {
			face = [3]int{n + 1, n, n + 2}
		}
		out.Triangles = append(out.Triangles, face)
	}
	return out
}

// A second limb that the planes cut is left out, a sleeve round the bone is
// not; seams and triangles that face inwards change nothing.
func TestSectionsOfOtherMeshes(t *testing.T) {
	limb := newTube(24, 9).mesh(along(Hat, 2))
	joints := matrices(wrung(2, 1.5))
	stations := []float64{0, 0.2, 0.5, 0.9, 1}
	want := mustSections(t, limb, nil, upright, stations).Measure(nil, Linear(nil, limb, joints), quat.Number{})
	for name, m := range map[string]Mesh{
		"another limb": joined(beside(limb, r3.Vec{X: 3}, 1), limb),
		"seams":        torn(limb, false),
		"inwards":      torn(limb, true),
	} {
		got := mustSections(t, m, nil, upright, stations).Measure(nil, Linear(nil, m, joints), quat.Number{})
		for k := range want {
			require.Equal(t, 1, got[k].Loops, name)
			require.InDelta(t, want[k].Radius, got[k].Radius, measureTolerance, name)
			require.InDelta(t, want[k].Area, got[k].Area, measureTolerance, name)
			require.InDelta(t, want[k].Turn, got[k].Turn, measureTolerance, name)
		}
	}
	sleeve := joined(limb, beside(limb, r3.Vec{}, 2))
	s := mustSections(t, sleeve, nil, upright, stations)
	require.Equal(t, 2, s.Measure(nil, sleeve.Positions, quat.Number{})[1].Loops)
	require.InDelta(t, (24*1+24*2*2.0)/(24*3), s.RestRadius(0), 1e-12, "by length")

	marks := make([]bool, len(sleeve.Triangles))
	for i := range limb.Triangles {
		marks[i] = true
	}
	s = mustSections(t, sleeve, marks, upright, stations)
	require.Equal(t, 1, s.Measure(nil, sleeve.Positions, quat.Number{})[1].Loops)
	require.InDelta(t, 1, s.RestRadius(0), measureTolerance)
	require.InDelta(t, 12*math.Sin(2*math.Pi/24), s.RestArea(0), measureTolerance)
	require.Len(t, s.Outline(nil, 0, sleeve.Positions), 24)
	for _, line := range s.Outline(nil, 2, sleeve.Positions) {
		require.InDelta(t, 0.5, line[0].Z, measureTolerance)
	}
}

// An open half of a tube's wall: three quarters of the way round is kept, one
// quarter is not.
func TestSectionsOfOpenLoops(t *testing.T) {
	limb := newTube(24, 9).mesh(along(Hat, 2))
	for corners, loops := range map[int]int{18: 1, 6: 0} {
		marks := make([]bool, len(limb.Triangles))
		for i, f := range limb.Triangles {
			marks[i] = f[0]%24 < corners
		}
		got := mustSections(t, limb, marks, upright, []float64{0.5}).Measure(nil, limb.Positions, quat.Number{})
		require.Equal(t, loops, got[0].Loops, "%d of 24", corners)
		require.Equal(t, loops == 0, math.IsNaN(got[0].Radius))
		require.Equal(t, loops == 0, math.IsNaN(got[0].Turn))
	}
}

// Between rings the triangles are cut: still round at rest, and near the
// formula.
func TestSectionsBetweenRings(t *testing.T) {
	m := newTube(64, 65).mesh(along(Hat, 2))
	stations := []float64{0.003, 0.3, 0.51, 0.777}
	s := mustSections(t, m, nil, upright, stations)
	got := s.Measure(nil, Linear(nil, m, matrices(wrung(2, math.Pi/2))), quat.Number{})
	for k, u := range stations {
		require.InDelta(t, 32*math.Sin(2*math.Pi/64), s.RestArea(k), 1e-12)
		require.InDelta(t, RadiusFactor(u, math.Pi/2), got[k].Radius, 5e-4)
		require.InDelta(t, SectionAngle(u, math.Pi/2), got[k].Turn, 5e-4)
	}
}

func TestNewSectionsRefuses(t *testing.T) {
	m := newTube(8, 3).mesh(along(Hat, 2))
	_, err := NewSections(m, make([]bool, 3), upright, nil)
	require.EqualError(t, err, "skin: 3 marks, expected one for each of 48 triangles")
	_, err = NewSections(m, nil, Bone{}, nil)
	require.EqualError(t, err, "skin: bone from {0 0 0} to {0 0 0}, expected two finite points apart")
	_, err = NewSections(m, nil, upright, []float64{0, math.NaN()})
	require.EqualError(t, err, "skin: station 1 is NaN, expected a place along the bone, 0 to 1")
	m.Triangles = append(m.Triangles, [3]int{0, 1, 99})
	_, err = NewSections(m, nil, upright, nil)
	require.EqualError(t, err, "skin: triangle 48: vertex 99, expected one of 26")
}
