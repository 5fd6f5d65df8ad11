package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// swungKeys are keys of a leg that is swung by so many degrees about a level axis, and
// twisted by others about its bone.
func swungKeys(swings, twists []float64) []float64 {
	const azimuth = 37 * math.Pi / 180
	about := func(x, y, z, degrees float64) quat.Number {
		sin, cos := math.Sincos(degrees * math.Pi / 360)
		return quat.Number{Real: cos, Imag: sin * x, Jmag: sin * y, Kmag: sin * z}
	}
	var keys []quat.Number
	for i, swing := range swings {
		keys = append(keys, quat.Mul(about(math.Cos(azimuth), 0, math.Sin(azimuth), swing), about(0, 1, 0, twists[i])))
	}
	return kneeKeys(keys...)
}

// A key at exactly half a turn of swing says nothing of the twist in float32. What is
// baked there goes on from its neighbours: no segment jumps for an instant.
func TestKeyAtHalfATurnOfSwing(t *testing.T) {
	const tau = 60.
	same := func(n int) (out []float64) {
		for range n {
			out = append(out, tau)
		}
		return out
	}
	for name, c := range map[string]struct {
		times, swings, twists []float64
		interpolation         string
	}{
		"through":           {[]float64{0, 1, 2, 3}, []float64{0, 90, 180, 270}, same(4), "LINEAR"},
		"through, stepping": {[]float64{0, 1, 2, 3}, []float64{0, 90, 180, 270}, same(4), "STEP"},
		"held":              {[]float64{0, 1, 2, 3.5, 5}, []float64{0, 120, 180, 180, 240}, same(5), "LINEAR"},
		"held, other noise": {[]float64{0, 1, 2, 3.5, 5}, []float64{0, 120, 180, 180, 240}, []float64{tau, tau, tau, -130, tau}, "LINEAR"},
		"at the end":        {[]float64{0, 1, 2}, []float64{0, 90, 180}, []float64{tau, tau, -20}, "STEP"},
		"at the beginning":  {[]float64{0.5, 1, 2}, []float64{180, 90, 0}, same(3), "LINEAR"},
		"there and back":    {[]float64{0, 1, 2}, []float64{120, 180, 120}, same(3), "LINEAR"},
	} {
		f := leg(t, []any{1, 1, 1}, c.times, legChannel{node: 2, interpolation: c.interpolation, rotations: swungKeys(c.swings, c.twists)})
		out, report, err := Split(f, splitThigh("", 3))
		require.NoError(t, err)
		k := partTrack(t, out)
		times := k.times
		for i := range 500 {
			times = append(times, c.times[0]+float64(i)/500*(c.times[len(c.times)-1]-c.times[0]))
		}
		// Both the keys' own noise and the bake's tolerance are the tolerance at most.
		const within = 2 * DefaultTolerance * 180 / math.Pi
		for _, at := range times {
			q := k.rotation(at)
			require.InDelta(t, -tau, 2*math.Atan2(q.Jmag, q.Real)*180/math.Pi, within, "%s at %.9g s", name, at)
		}
		require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, DefaultTolerance*180/math.Pi)
		require.InDelta(t, tau, report.Limbs[0].TwistMaxDeg, within, name)
	}
}

// Where all of a clip is undefined there is no twist, and it takes no longer than
// any other.
func TestClipOfHalfATurnOfSwing(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	var times, swings, twists []float64
	for i := range 200 {
		times, swings, twists = append(times, float64(i)), append(swings, 180), append(twists, float64(i))
	}
	f := leg(t, []any{1, 1, 1}, times, legChannel{node: 2, interpolation: "LINEAR", rotations: swungKeys(swings, twists)})
	_, report, err := Split(f, splitThigh("", 3))
	require.NoError(t, err)
	require.Zero(t, report.Limbs[0].TwistMaxDeg)
}

// The warning tells of the largest jump, when that is, and counts those that can be
// seen.
func TestWarningOfTheLargestFlip(t *testing.T) {
	const degrees = math.Pi / 180
	m := motion{limb: &limb{spec: LimbSpec{Name: "thigh"}}, clip: &clip{name: "turn"}}
	said := func(jumps ...jump) []string {
		m.seen = seen{condition: 1, jumps: jumps}
		return m.warnings(nil)
	}
	require.Empty(t, said(jump{1, 0.4 * degrees}, jump{2, 0.99 * degrees}))
	require.Equal(t, []string{`clip "turn": limb "thigh": at 3.000 s its twist passes half a turn and segments flip by up to 170 degrees`},
		said(jump{1, 0.4 * degrees}, jump{3, 170 * degrees}))
	require.Equal(t, []string{`clip "turn": limb "thigh": at 3.000 s its twist passes half a turn and segments flip by up to 170 degrees; it is the largest of 3 such jumps`},
		said(jump{1, 0.4 * degrees}, jump{2, 5 * degrees}, jump{3, 170 * degrees}, jump{4, 90 * degrees}))
}
