package chain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// randomQuaternions are n of any length, as x, y, z, w.
func randomQuaternions(seed uint64, n int) []float64 {
	random := rand.New(rand.NewPCG(seed, 1))
	out := make([]float64, 4*n)
	for i := range out {
		out[i] = random.NormFloat64()
	}
	return out
}

func batchLimbs(t *testing.T) map[string]*Solver {
	out := map[string]*Solver{}
	for name, limb := range map[string]Limb{
		"own":    {Axis: r3.Vec{X: 1, Y: 2, Z: 3}, Segments: 4},
		"tip":    {Axis: r3.Vec{X: 1, Y: 2, Z: 3}, Segments: 3, Twist: Tip},
		"mixed":  {Shares: []float64{0, 0.25, 0.5, 1}, TipShares: []float64{0.5, 0, 1, 0.1}},
		"best":   {Axis: r3.Vec{Y: -1}, Range: hipOfTest(), Segments: 5},
		"centre": {Axis: r3.Vec{Y: -1}, Centre: Centre{Mode: Given, Direction: r3.Vec{X: 1, Z: 1}}, Segments: 2, Ramp: Smooth},
	} {
		solver, err := NewSolver(limb)
		require.NoError(t, err, name)
		out[name] = solver
	}
	return out
}

// Every layout, every number of workers and one by one: the same bits.
func TestBatchesAgreeToTheBit(t *testing.T) {
	const n = 5000
	for name, solver := range batchLimbs(t) {
		t.Run(name, func(t *testing.T) {
			segments := solver.Segments()
			joints, tips := randomQuaternions(1, n), randomQuaternions(2, n)
			want := make([]float64, 4*segments*n)
			one := make([]quat.Number, segments)
			for i := range n {
				j, f := joints[4*i:], tips[4*i:]
				solver.Solve(one, quat.Number{Imag: j[0], Jmag: j[1], Kmag: j[2], Real: j[3]},
					quat.Number{Imag: f[0], Jmag: f[1], Kmag: f[2], Real: f[3]})
				for s, q := range one {
					copy(want[4*(segments*i+s):], []float64{q.Imag, q.Jmag, q.Kmag, q.Real})
				}
			}
			batch := NewBatch[float64](solver)
			for _, workers := range []int{1, 2, 3, 7} {
				got := make([]float64, len(want))
				outcome, err := batch.SolveOn(workers, Quaternions(got, segments), Quaternions(joints, 1), Quaternions(tips, 1), n)
				require.NoError(t, err)
				require.Equal(t, Outcome{}, outcome)
				require.Equal(t, want, got, "%d workers", workers)
			}
			for i := range 100 { // one at a time goes another way
				got := make([]float64, 4*segments)
				_, err := batch.Solve(Quaternions(got, segments), Quaternions(joints[4*i:], 1), Quaternions(tips[4*i:], 1), 1)
				require.NoError(t, err)
				require.Equal(t, want[4*segments*i:4*segments*(i+1)], got)
			}
			planes := make([]float64, len(want))
			size := segments * n
			x, y, z, w := planes[:size], planes[size:2*size], planes[2*size:3*size], planes[3*size:]
			_, err := batch.Solve(Planes(x, y, z, w, n), Quaternions(joints, 1), Quaternions(tips, 1), n)
			require.NoError(t, err)
			for i := range n {
				for s := range segments {
					q := want[4*(segments*i+s):]
					require.Equal(t, [4]float64(q[:4]), [4]float64{x[s*n+i], y[s*n+i], z[s*n+i], w[s*n+i]})
				}
			}
		})
	}
}

// float32 answers are those of float64 for the same rotations, to float32's bound.
func TestBatchInFloat32(t *testing.T) {
	const n = 5000
	for name, solver := range batchLimbs(t) {
		t.Run(name, func(t *testing.T) {
			segments := solver.Segments()
			joints, tips := randomQuaternions(1, n), randomQuaternions(2, n)
			joints32, tips32 := narrow(joints), narrow(tips)
			want, got := make([]float64, 4*segments*n), make([]float32, 4*segments*n)
			_, err := NewBatch[float64](solver).Solve(Quaternions(want, segments), Quaternions(joints, 1), Quaternions(tips, 1), n)
			require.NoError(t, err)
			outcome, err := NewBatch[float32](solver).Solve(Quaternions(got, segments), Quaternions(joints32, 1), Quaternions(tips32, 1), n)
			require.NoError(t, err)
			require.Equal(t, Outcome{}, outcome)
			for i := range n {
				r := solver.Solve(make([]quat.Number, segments),
					quat.Number{Imag: joints[4*i], Jmag: joints[4*i+1], Kmag: joints[4*i+2], Real: joints[4*i+3]},
					quat.Number{Imag: tips[4*i], Jmag: tips[4*i+1], Kmag: tips[4*i+2], Real: tips[4*i+3]})
				limit := 5e-7 + 32*0x1p-23/min(r.Condition, r.TipCondition)
				for k := 4 * segments * i; k < 4*segments*(i+1); k += 4 {
					dot, q := 0., want[k:k+4]
					for c := range q {
						dot += q[c] * float64(got[k+c])
					}
					for c := range q {
						require.InDelta(t, q[c], math.Copysign(1, dot)*float64(got[k+c]), limit, "rotation %d", i)
					}
				}
			}
		})
	}
}

func narrow(in []float64) []float32 {
	out := make([]float32, len(in))
	for i := range in {
		out[i] = float32(in[i])
		in[i] = float64(out[i])
	}
	return out
}

func TestBatchCountsWhatHasNoAnswer(t *testing.T) {
	solver, err := NewSolver(Limb{Axis: r3.Vec{Y: 1}, Segments: 2})
	require.NoError(t, err)
	joints := []float64{0, 0, 0, 1, 1, 0, 0, 0, math.NaN(), 0, 0, 1, 0, 0, 0, 0, math.Inf(1), 0, 0, 0}
	dst := make([]float64, 4*2*5)
	outcome, err := NewBatch[float64](solver).Solve(Quaternions(dst, 2), Quaternions(joints, 1), Rotations[float64]{}, 5)
	require.NoError(t, err)
	require.Equal(t, Outcome{Undefined: 2, Bad: 2}, outcome)
	for i, v := range dst {
		require.Equal(t, i/8 == 2 || i/8 == 4, v != v, "%d", i)
	}
}

func TestShortArraysAreNamed(t *testing.T) {
	solver, err := NewSolver(Limb{Segments: 2, Twist: Tip})
	require.NoError(t, err)
	batch := NewBatch[float32](solver)
	full := func(n, segments int) Rotations[float32] { return Quaternions(make([]float32, 4*n*segments), segments) }
	for name, c := range map[string]struct {
		dst, joints, tips Rotations[float32]
		n                 int
	}{
		"dst":      {full(2, 2), full(3, 1), full(3, 1), 3},
		"joints":   {full(3, 2), full(2, 1), full(3, 1), 3},
		"tips":     {full(3, 2), full(3, 1), Rotations[float32]{}, 3},
		"negative": {full(3, 2), full(3, 1), full(3, 1), -1},
	} {
		for _, workers := range []int{1, 4} {
			_, err := batch.SolveOn(workers, c.dst, c.joints, c.tips, c.n)
			require.ErrorContains(t, err, "batch: ")
			if c.n > 0 {
				require.ErrorContains(t, err, name)
			}
		}
	}
	huge := Rotations[float32]{W: make([]float32, 8), X: make([]float32, 8), Y: make([]float32, 8), Z: make([]float32, 8), Stride: math.MaxInt, Segment: math.MaxInt}
	_, err = batch.Solve(huge, full(3, 1), full(3, 1), 3)
	require.ErrorContains(t, err, "dst")
}

func TestAim(t *testing.T) {
	axis := r3.Vec{X: 1, Y: 2, Z: 3}
	aim, err := NewAim[float64](axis)
	require.NoError(t, err)
	const n = 100
	frames, targets := randomQuaternions(5, n), randomQuaternions(6, n)[:3*n]
	before := append([]float64(nil), frames...)
	outcome, err := aim.Solve(Quaternions(frames, 1), Quaternions(frames, 1), Vectors(targets), n)
	require.NoError(t, err)
	require.Equal(t, Outcome{}, outcome)
	for i := range n {
		b, f, d := before[4*i:], frames[4*i:], targets[3*i:]
		want, _ := swing.Aim(quat.Number{Imag: b[0], Jmag: b[1], Kmag: b[2], Real: b[3]}, axis, r3.Vec{X: d[0], Y: d[1], Z: d[2]})
		got := quat.Number{Imag: f[0], Jmag: f[1], Kmag: f[2], Real: f[3]}
		require.Less(t, quat.Abs(quat.Sub(want, got)), 1e-13, "%d", i)
	}
	_, err = NewAim[float64](r3.Vec{})
	require.ErrorContains(t, err, "axis")
	_, err = aim.Solve(Quaternions(frames, 1), Quaternions(frames, 1), Vectors(targets[:3*n-1]), n)
	require.ErrorContains(t, err, "targets")
}

func TestBatchesDoNotAllocate(t *testing.T) {
	solver, err := NewSolver(Limb{Axis: r3.Vec{Y: -1}, Range: hipOfTest(), Segments: 4})
	require.NoError(t, err)
	batch := NewBatch[float32](solver)
	joints, dst := narrow(randomQuaternions(1, 100)), make([]float32, 1600)
	require.Zero(t, testing.AllocsPerRun(10, func() {
		_, _ = batch.Solve(Quaternions(dst, 4), Quaternions(joints, 1), Rotations[float32]{}, 100)
	}))
}

func hipOfTest() Range { return Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}) }

func TestStepsThatCannotBe(t *testing.T) {
	solver, err := NewSolver(Limb{Segments: 2})
	require.NoError(t, err)
	batch := NewBatch[float64](solver)
	s := make([]float64, 64)
	at := func(stride, segment int) Rotations[float64] {
		return Rotations[float64]{X: s, Y: s[1:], Z: s[2:], W: s[3:], Stride: stride, Segment: segment}
	}
	for _, c := range []struct {
		dst, joints Rotations[float64]
		complaint   string
	}{
		{at(0, 4), at(4, 0), "dst has stride 0 and segment 4, expected steps of 1 or more"},
		{at(8, 0), at(4, 0), "dst has stride 8 and segment 0, expected steps of 1 or more"},
		{at(-8, 4), at(4, 0), "dst has stride -8 and segment 4, expected steps of 0 or more"},
		{at(8, 4), at(-4, 0), "joints has stride -4 and segment 0, expected steps of 0 or more"},
	} {
		_, err := batch.Solve(c.dst, c.joints, Rotations[float64]{}, 2)
		require.ErrorContains(t, err, c.complaint)
	}
	repeated := make([]float64, 3)
	one := Rotations[float64]{X: repeated, Y: repeated, Z: repeated, W: []float64{1}, Stride: 0}
	outcome, err := batch.Solve(at(8, 4), one, Rotations[float64]{}, 2)
	require.NoError(t, err)
	require.Equal(t, Outcome{}, outcome)
	aim, err := NewAim[float64](r3.Vec{Y: 1})
	require.NoError(t, err)
	_, err = aim.Solve(at(0, 0), at(4, 0), Vectors(s), 2)
	require.ErrorContains(t, err, "dst has stride 0")
	_, err = aim.Solve(at(4, 0), at(4, 0), Directions[float64]{X: s, Y: s, Z: s, Stride: -3}, 2)
	require.ErrorContains(t, err, "targets has stride -3, expected a step of 0 or more")
}
