package engine

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

func aimIsChains[F float32 | float64](t *testing.T) {
	frames, targets := random[F](4*poses), random[F](3*poses)
	dst, want := make([]F, 4*poses), make([]F, 4*poses)
	for _, axis := range [][3]float64{{0, 1, 0}, {1, 2, 3}, {0, 1, 0}} { // ready, new and ready again
		aim, err := chain.NewAim[F](vector(axis))
		require.NoError(t, err)
		_, err = aim.Solve(chain.Quaternions(want, 1), chain.Quaternions(frames, 1), chain.Vectors(targets), poses)
		require.NoError(t, err)
		o, err := AimPacked(&axis, &dst[0], &frames[0], &targets[0], poses)
		require.NoError(t, err)
		require.Zero(t, o)
		require.Equal(t, want, dst)
	}
	axis := [3]float64{0, 1, 0}
	copy(dst, frames)
	_, err := AimPacked(&axis, &dst[0], &dst[0], &targets[0], poses)
	require.NoError(t, err)
	_, err = AimPacked(&axis, &want[0], &frames[0], &targets[0], poses)
	require.NoError(t, err)
	require.Equal(t, want, dst, "in place")
}

func TestAimIsChains32(t *testing.T) { aimIsChains[float32](t) }
func TestAimIsChains64(t *testing.T) { aimIsChains[float64](t) }

func TestAimErrors(t *testing.T) {
	var x [8]float64
	p, up := &x[0], &[3]float64{0, 1, 0}
	for _, c := range []struct {
		axis                 *[3]float64
		dst, frames, targets *float64
		n                    uint64
		want                 string
	}{
		{nil, p, p, p, 1, "axis is null"},
		{&[3]float64{}, p, p, p, 1, "axis is [0, 0, 0], expected a finite direction of non-zero length"},
		{&[3]float64{0, math.NaN(), 0}, p, p, p, 1, "axis is [0, NaN, 0]"},
		{up, nil, p, p, 1, "dst is null"},
		{up, p, nil, p, 1, "frames is null"},
		{up, p, p, nil, 1, "targets is null"},
		{up, p, p, p, math.MaxUint64, "n is 18446744073709551615"},
	} {
		_, err := AimPacked(c.axis, c.dst, c.frames, c.targets, c.n)
		require.ErrorContains(t, err, c.want)
		require.Equal(t, BadArgument, StatusOfError(err))
	}
	_, err := AimPacked[float64](up, nil, nil, nil, 0)
	require.NoError(t, err)
	require.Zero(t, x)
}

func TestAimOutcomes(t *testing.T) {
	frames := []float64{0, 0, 0, 1 /**/, 0, 0, 0, 1 /**/, 0, 0, 0, math.NaN()}
	targets := []float64{0, 0, 1 /**/, 0, -1, 0 /**/, 1, 0, 0}
	dst := make([]float64, 12)
	o, err := AimPacked(&[3]float64{0, 1, 0}, &dst[0], &frames[0], &targets[0], 3)
	require.NoError(t, err)
	require.Equal(t, chain.Outcome{Undefined: 1, Bad: 1}, o)
	require.InDeltaSlice(t, []float64{math.Sqrt(.5), 0, 0, math.Sqrt(.5)}, dst[:4], 1e-15)
}
