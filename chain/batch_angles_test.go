package chain

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// Angles of a batch are those that Solver.Angles gives: to the bit in float64, to
// float32's error in float32. Both halves of an angle are shares of twists, each
// known to 8 eps over its condition; random rotations keep that above 0.01.
func TestBatchOfAngles(t *testing.T) {
	const count, tolerance = 200, 4 * 8 * 0x1p-23 / 0.01
	flat := randomQuaternions(3, count)
	single := make([]float32, len(flat))
	joints := make([]quat.Number, count)
	for i := range joints {
		q := flat[4*i:]
		joints[i] = quat.Number{Imag: q[0], Jmag: q[1], Kmag: q[2], Real: q[3]}
	}
	for i, x := range flat {
		single[i] = float32(x)
	}
	for name, solver := range batchLimbs(t) {
		n := solver.Segments()
		got, want, rough := make([]float64, n*count), make([]float64, n), make([]float32, n*count)
		outcome, err := NewBatch[float64](solver).Angles(got, Numbers(joints, 1), Numbers(joints, 1), count)
		require.NoError(t, err, name)
		require.Equal(t, Outcome{}, outcome, name)
		outcome, err = NewBatch[float32](solver).Angles(rough, Quaternions(single, 1), Quaternions(single, 1), count)
		require.NoError(t, err, name)
		require.Equal(t, Outcome{}, outcome, name)
		for i := range joints {
			r := solver.Angles(want, joints[i], joints[i])
			require.Greater(t, min(r.Condition, r.TipCondition), 0.01, name)
			require.Equal(t, want, got[i*n:(i+1)*n], name)
			for j, angle := range want {
				require.InDelta(t, angle, rough[i*n+j], tolerance, "%s: %d, %d", name, i, j)
			}
		}
	}
}

func TestBatchOfAnglesTellsWhatIsShort(t *testing.T) {
	solver, err := NewSolver(Limb{Twist: Tip, Segments: 2})
	require.NoError(t, err)
	batch := NewBatch[float64](solver)
	three := Numbers(make([]quat.Number, 3), 1)
	angles := []float64{7, 7, 7, 7, 7, 7}
	for _, c := range []struct {
		message      string
		dst          []float64
		joints, tips Rotations[float64]
		n            int
	}{
		{"chain: batch: dst has 5 angles, expected enough for 3 rotations of 2 segments", angles[:5], three, three, 3},
		{"chain: batch: joints ends after", angles, Numbers(make([]quat.Number, 2), 1), three, 3},
		{"chain: batch: tips ends after", angles, three, Numbers(nil, 1), 3},
		{"chain: batch: -1 rotations, expected 0 or more", angles, three, three, -1},
	} {
		_, err := batch.Angles(c.dst, c.joints, c.tips, c.n)
		require.ErrorContains(t, err, c.message)
	}
	require.Equal(t, []float64{7, 7, 7, 7, 7, 7}, angles)
	outcome, err := batch.Angles(angles, three, three, 3) // zeros tell no twist
	require.NoError(t, err)
	require.Equal(t, Outcome{Undefined: 3}, outcome)
	require.Equal(t, make([]float64, 6), angles)
	_, err = batch.Angles(nil, Numbers(nil, 1), Numbers(nil, 1), 0)
	require.NoError(t, err)
}
