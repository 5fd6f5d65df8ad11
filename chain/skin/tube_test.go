package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// tube is a closed tube of unit radius and length along z, made in the test:
// rings of corner points, then the two caps' middles.
type tube struct {
	corners, rings int
	points         []r3.Vec
}

func newTube(corners, rings int) tube {
	m := tube{corners: corners, rings: rings}
	for ring := range rings {
		z := float64(ring) / float64(rings-1)
		for corner := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(corner) / float64(corners))
			m.points = append(m.points, r3.Vec{X: cos, Y: sin, Z: z})
		}
	}
	m.points = append(m.points, r3.Vec{}, r3.Vec{Z: 1})
	return m
}

// triangles calls f with each triangle, counter-clockwise seen from outside.
func (m tube) triangles(f func(a, b, c r3.Vec)) {
	at := func(ring, corner int) r3.Vec { return m.points[ring*m.corners+corner%m.corners] }
	last := m.rings - 1
	bottom, top := m.points[len(m.points)-2], m.points[len(m.points)-1]
	for corner := range m.corners {
		for ring := range last {
			a, b := at(ring, corner), at(ring, corner+1)
			c, d := at(ring+1, corner+1), at(ring+1, corner)
			f(a, b, c)
			f(a, c, d)
		}
		f(bottom, at(0, corner+1), at(0, corner))
		f(top, at(last, corner), at(last, corner+1))
	}
}

// volume is the sum of a·(b×c)/6 over the triangles.
func (m tube) volume() float64 {
	var sum float64
	m.triangles(func(a, b, c r3.Vec) { sum += r3.Dot(a, r3.Cross(b, c)) / 6 })
	return sum
}

// twisted is the tube skinned by linear blending to segments that share the
// twist out linearly.
func (m tube) twisted(b Basis, segments int, twist float64) tube {
	out := tube{corners: m.corners, rings: m.rings}
	w := make([]float64, segments)
	for _, p := range m.points {
		b.Weights(w, p.Z)
		var at r3.Vec
		for i, weight := range w {
			angle := twist * float64(i) / float64(max(segments-1, 1))
			sin, cos := math.Sincos(angle)
			at = r3.Add(at, r3.Scale(weight, r3.Vec{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y, Z: p.Z}))
		}
		out.points = append(out.points, at)
	}
	return out
}

// A tube of 64 corners has the volume 32 sin(2 pi/64). Twisted by 90 degrees
// between two frames with weights linear along it, it keeps 0.666410798 of it
// on 64 lengths and 0.666602699 on 256, tending to 2/3 (linear blending:
// Magnenat-Thalmann, Laperrière & Thalmann 1988; Lewis, Cordner & Fong 2000;
// values worked out numerically, to nine digits).
func TestTubeVolume(t *testing.T) {
	const digits, tolerance = 5e-10, 5e-4
	plain := newTube(64, 65).volume()
	require.InDelta(t, 3.136548490546, plain, 1e-12)
	require.InDelta(t, 32*math.Sin(2*math.Pi/64), plain, 1e-12)
	for lengths, published := range map[int]float64{64: 0.666410798, 256: 0.666602699} {
		m := newTube(64, lengths+1)
		ratio := m.twisted(Hat, 2, math.Pi/2).volume() / m.volume()
		require.InDelta(t, published, ratio, digits)
		require.InDelta(t, VolumeFactor(math.Pi/2), ratio, tolerance)
	}
}

// More segments keep more, as the formula says for the hat; the smoother bases
// cut the corners of the ramp and lose a little more, never as much as one
// segment fewer does.
func TestTubeVolumeOverSegments(t *testing.T) {
	const tolerance = 5e-4
	m := newTube(64, 12*12+1) // a ring at every node
	whole := m.volume()
	kept := func(b Basis, segments int) float64 { return m.twisted(b, segments, math.Pi/2).volume() / whole }
	for spans := 1; spans <= 4; spans++ {
		require.InDelta(t, VolumeFactor(math.Pi/2/float64(spans)), kept(Hat, spans+1), tolerance, "%d spans", spans)
		for _, b := range []Basis{Quadratic, Cubic} {
			require.LessOrEqual(t, kept(b, spans+1), kept(Hat, spans+1)+1e-12, "%v, %d spans", b, spans)
			if spans > 1 {
				require.Greater(t, kept(b, spans+1), kept(Hat, spans), "%v, %d spans", b, spans)
			}
		}
	}
}

// The ends keep their place and go all the way, in every basis.
func TestTubeEnds(t *testing.T) {
	m := newTube(16, 9)
	for _, b := range bases {
		got := m.twisted(b, 4, math.Pi/2)
		for corner := range m.corners {
			require.Equal(t, m.points[corner], got.points[corner], "%v: root ring", b)
			p, q := m.points[8*m.corners+corner], got.points[8*m.corners+corner]
			require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: -p.Y, Y: p.X, Z: 1}, q)), 4*eps, "%v: end ring", b)
		}
	}
}
