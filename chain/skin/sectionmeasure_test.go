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

// Linear blending of two frames: the radius factor as published to nine digits
// (Magnenat-Thalmann, Laperrière & Thalmann 1988 and Lewis, Cordner & Fong 2000,
// by way of Kavan 2014), worked out anew for 150 degrees at a quarter; the
// formulas to rounding; the area the radius squared.
func TestSectionsOfLinearBlending(t *testing.T) {
	m := newTube(64, 65).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, upright, spaced(64))
	for _, row := range []struct{ degrees, half, quarter float64 }{
		{60, .866025404, .901387819},
		{90, .707106781, .790569415},
		{120, .5, .661437828},
		{150, .258819045, .547942035},
		{180, 0, .5},
	} {
		angle := row.degrees * math.Pi / 180
		got := s.Measure(nil, Linear(nil, m, matrices(wrung(2, angle))), quat.Number{})
		require.InDelta(t, row.half, got[32].Radius, 1e-9)
		require.InDelta(t, row.quarter, got[16].Radius, 1e-9)
		for k, section := range got {
			w := float64(k) / 64
			want := RadiusFactor(w, angle)
			require.Equal(t, w, section.Station)
			require.Equal(t, 1, section.Loops)
			require.InDelta(t, want, section.Radius, measureTolerance)
			require.InDelta(t, want, section.LeastRadius, measureTolerance)
			require.InDelta(t, want*want, section.Area, measureTolerance)
			requireNear(t, []r3.Vec{{Z: w}}, []r3.Vec{section.Centre}, measureTolerance)
			if want < 1e-9 { // 180 degrees, half way: a point, which has no turn
				require.True(t, math.IsNaN(section.Turn))
				continue
			}
			// The angle of what is left of the radius.
			require.InDelta(t, SectionAngle(w, angle), section.Turn, measureTolerance/want)
		}
	}
}

// A dual-quaternion blend about a common axis keeps the radius exactly (Kavan et
// al. 2008); its angle is that of the blended quaternions.
func TestSectionsOfDualQuaternions(t *testing.T) {
	m := newTube(64, 65).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, upright, spaced(64))
	for _, angle := range []float64{0.1, math.Pi / 2, 5 * math.Pi / 6, 3.1} {
		for k, section := range s.Measure(nil, DualQuaternion(nil, m, wrung(2, angle)), quat.Number{}) {
			w := float64(k) / 64
			sin, cos := math.Sincos(angle / 2)
			require.InDelta(t, 1, section.Radius, measureTolerance)
			require.InDelta(t, 1, section.LeastRadius, measureTolerance)
			require.InDelta(t, 1, section.Area, measureTolerance)
			require.InDelta(t, 2*math.Atan2(w*sin, 1-w+w*cos), section.Turn, measureTolerance)
		}
	}
}

// helix bends a tube round a circle in the yz plane and wrings it, both evenly:
// no section changes, and the skin twists by the same angle a metre all along.
func helix(points []r3.Vec, bend, twist float64) []r3.Vec {
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		f := rest.Frame{Rotation: quat.Mul(turned(r3.Vec{X: 1}, bend*p.Z), turned(r3.Vec{Z: 1}, twist*p.Z))}
		sin, cos := math.Sincos(bend * p.Z / 2)
		f.Position = r3.Scale(2*sin/bend, r3.Vec{Y: -sin, Z: cos}) // the chord of the arc
		out[i] = f.Point(r3.Vec{X: p.X, Y: p.Y})
	}
	return out
}

// helixNormal is the direction of helix' centre line where it has bent so far.
func helixNormal(bend float64) r3.Vec {
	sin, cos := math.Sincos(bend)
	return r3.Vec{Y: -sin, Z: cos}
}

// A section that has turned inside out keeps the plane of the one before, and so
// the sections after it their turns.
func TestSectionsInsideOut(t *testing.T) {
	m := newTube(24, 33).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, upright, spaced(32))
	posed := helix(m.Positions, 1, 2)
	want := s.Measure(nil, posed, quat.Number{})
	for v := 24 * 5; v < 24*6; v++ { // a half turn about a line across the ring
		across := rest.Frame{Rotation: turned(r3.Vec{X: 1}, math.Pi)}
		posed[v] = r3.Add(want[5].Centre, across.Direction(r3.Sub(posed[v], want[5].Centre)))
	}
	got := s.Measure(nil, posed, quat.Number{})
	for k := range got {
		if k != 5 {
			require.InDelta(t, want[k].Turn, got[k].Turn, 1e-12, "station %d", k)
		}
		require.InDelta(t, 1, got[k].Area, measureTolerance)
	}
}

// The twist of a bent limb is told from its bend, and goes on beyond half a
// turn.
func TestSectionsOfABentLimb(t *testing.T) {
	m := newTube(24, 33).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, upright, spaced(32))
	for _, bend := range []float64{1e-3, 1, 2.5} {
		for _, twist := range []float64{0, 1, -9} {
			got := s.Measure(nil, helix(m.Positions, bend, twist), quat.Number{})
			for k, section := range got {
				require.InDelta(t, 1, section.Radius, measureTolerance)
				require.InDelta(t, 1, section.Area, measureTolerance)
				require.InDelta(t, twist*float64(k)/32, section.Turn, 1e-12, "bend %v twist %v", bend, twist)
			}
			density := TwistDensity(nil, got)
			require.Len(t, density, 32)
			for _, d := range density {
				require.InDelta(t, twist, d, 1e-10) // turns over a length of 1/32
			}
		}
	}
}

// Density is by the metre, whatever the bone's length.
func TestTwistDensityIsByTheMetre(t *testing.T) {
	m := newTube(24, 9).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, Bone{Root: r3.Vec{Z: 0.25}, End: r3.Vec{Z: 0.75}}, []float64{0, 0.5, 0.5, 1})
	density := TwistDensity(nil, s.Measure(nil, helix(m.Positions, 1e-3, 2), quat.Number{}))
	require.InDelta(t, 2, density[0], 1e-10)
	require.True(t, math.IsNaN(density[1]))
	require.InDelta(t, 2, density[2], 1e-10)
	require.Empty(t, TwistDensity(nil, nil))
}

// A limb moved as a whole is as it was; the turn is against the swing given.
func sectionsMovedAsAWhole(t *rapid.T) {
	m := newTube(12, 5).mesh(along(Hat, 2))
	stations := rapid.SliceOfN(rapid.Float64Range(0.01, 0.99), 1, 4).Draw(t, "stations")
	s := mustSections(t, m, nil, upright, stations)
	f := genRigid().Draw(t, "f")
	twist := rapid.Float64Range(-3, 3).Draw(t, "twist")
	posed := helix(m.Positions, 0.5, twist)
	want := s.Measure(nil, posed, quat.Number{})
	got := s.Measure(nil, moved(f, posed), f.Rotation)
	still := s.Measure(nil, moved(f, m.Positions), f.Rotation)
	// Without a swing all turns are off by the same, but where the limb points
	// the opposite way from rest.
	if normal := f.Direction(helixNormal(0.5 * stations[0])); normal.Z > -0.9 {
		var off float64
		for k, section := range s.Measure(nil, moved(f, posed), quat.Number{}) {
			if k == 0 {
				off = section.Turn - want[k].Turn
			}
			require.InDelta(t, 0, math.Remainder(section.Turn-want[k].Turn-off, 2*math.Pi), 1e-11)
		}
	}
	for k := range got {
		require.InDelta(t, want[k].Radius, got[k].Radius, 1e-12)
		require.InDelta(t, want[k].LeastRadius, got[k].LeastRadius, 1e-12)
		require.InDelta(t, want[k].Area, got[k].Area, 1e-12)
		require.InDelta(t, want[k].Turn, got[k].Turn, 1e-12)
		requireNear(t, []r3.Vec{f.Point(want[k].Centre)}, []r3.Vec{got[k].Centre}, 1e-12)
		require.InDelta(t, 1, still[k].Radius, 1e-12)
		require.InDelta(t, 1, still[k].Area, 1e-12)
		require.InDelta(t, 0, still[k].Turn, 1e-12)
	}
}

func TestSectionsMovedAsAWhole(t *testing.T) { rapid.Check(t, sectionsMovedAsAWhole) }
func FuzzSectionsMovedAsAWhole(f *testing.F) { f.Fuzz(rapid.MakeFuzz(sectionsMovedAsAWhole)) }

func TestMeasuringAllocatesNothing(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector moves to the heap what else stays on the stack")
	}
	m := newTube(16, 9).mesh(along(Hat, 2))
	s := mustSections(t, m, nil, upright, spaced(8))
	v := mustVolume(t, m, nil, upright, 0.1, 0.9)
	posed := Linear(nil, m, matrices(wrung(2, 1)))
	sections := s.Measure(nil, posed, quat.Number{})
	outline := s.Outline(nil, 3, posed)
	density := TwistDensity(nil, sections)
	strains := Strains(nil, m.Positions, posed, m.Triangles)
	stretches := EdgeStretches(nil, m.Positions, posed, m.Triangles)
	var volume float64
	require.Zero(t, testing.AllocsPerRun(20, func() {
		sections = s.Measure(sections, posed, quat.Number{})
		outline = s.Outline(outline, 3, posed)
		density = TwistDensity(density, sections)
		strains = Strains(strains, m.Positions, posed, m.Triangles)
		stretches = EdgeStretches(stretches, m.Positions, posed, m.Triangles)
		volume += v.Measure(posed)
	}))
	require.Positive(t, volume)
}
