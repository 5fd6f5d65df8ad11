package engine

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

// random numbers from a fixed seed.
func random[F float32 | float64](n int) []F {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]F, n)
	for i := range out {
		out[i] = F(r.NormFloat64())
	}
	return out
}

const poses = 2500 // enough for two threads, and no multiple of anything

func TestSolvePackedIsSolve(t *testing.T) {
	h := newLimb(t, Spec{Twist: chain.Tip, Shares: []float64{0, .5, 1}})
	l, err := Lookup(h)
	require.NoError(t, err)
	joints, tips := random[float64](4*poses), random[float64](4*poses)
	dst, want := make([]float64, 12*poses), make([]float64, 12*poses)
	for i := range poses {
		_, status, err := l.Solve(want[12*i:12*i+12], (*[4]float64)(joints[4*i:]), (*[4]float64)(tips[4*i:]))
		require.NoError(t, err)
		require.Equal(t, OK, status)
	}
	o, err := SolvePacked(h, &dst[0], &joints[0], &tips[0], poses)
	require.NoError(t, err)
	require.Zero(t, o)
	require.Equal(t, want, dst)
	require.NoError(t, Free(h))
}

// Planes on several threads have the bits of quaternions on one.
func layoutIsPacked[F float32 | float64](t *testing.T) {
	h := newLimb(t, hip())
	joints := random[F](4 * poses)
	want := make([]F, 16*poses)
	_, err := SolvePacked(h, &want[0], &joints[0], nil, poses)
	require.NoError(t, err)

	dst := make([]F, 16*poses)
	to := Layout[F]{&dst[0], &dst[4*poses], &dst[8*poses], &dst[12*poses], 1, poses}
	from := Layout[F]{&joints[0], &joints[1], &joints[2], &joints[3], 4, math.MaxUint}
	for _, threads := range []uint32{0, 1, 2, math.MaxUint32} {
		clear(dst)
		o, err := SolveLayout(h, &to, &from, nil, poses, threads)
		require.NoError(t, err)
		require.Zero(t, o)
		for i := range dst {
			component, segment, pose := i/(4*poses), i/poses%4, i%poses
			require.Equal(t, want[16*pose+4*segment+component], dst[i])
		}
	}
	require.NoError(t, Free(h))
}

func TestLayoutIsPacked32(t *testing.T) { layoutIsPacked[float32](t) }
func TestLayoutIsPacked64(t *testing.T) { layoutIsPacked[float64](t) }

// One joint for all poses is a stride of 0.
func TestLayoutRepeats(t *testing.T) {
	h := newLimb(t, Spec{})
	q, dst := []float64{.1, .2, .3, .9}, make([]float64, 8*3)
	from := Layout[float64]{X: &q[0], Y: &q[1], Z: &q[2], W: &q[3]}
	to := Layout[float64]{&dst[0], &dst[1], &dst[2], &dst[3], 8, 4}
	_, err := SolveLayout(h, &to, &from, nil, 3, 1)
	require.NoError(t, err)
	require.Equal(t, dst[:8], dst[16:])
	require.NotZero(t, dst[0]+dst[1])
	require.NoError(t, Free(h))
}

func TestOutcomes(t *testing.T) {
	h := newLimb(t, Spec{})
	l, err := Lookup(h)
	require.NoError(t, err)
	joints := []float64{0, 0, 0, 1 /**/, 1, 0, 0, 0 /**/, 0, 0, 0, 0 /**/, math.NaN(), 0, 0, 1}
	dst := make([]float64, 8*4)
	o, err := SolvePacked(h, &dst[0], &joints[0], nil, 4)
	require.NoError(t, err)
	require.Equal(t, chain.Outcome{Undefined: 2, Bad: 1}, o)
	require.Equal(t, []float64{0, 0, 0, 1}, dst[:4])
	require.True(t, math.IsNaN(dst[31]))
	for i, want := range []Status{OK, Undefined, Undefined, NotFinite} {
		one := make([]float64, 8)
		_, status, err := l.Solve(one, (*[4]float64)(joints[4*i:]), nil)
		require.NoError(t, err)
		require.Equal(t, want, status)
		for k := range one {
			require.Equal(t, math.Float64bits(dst[8*i+k]), math.Float64bits(one[k]))
		}
	}
	require.NoError(t, Free(h))
}

// What cannot be is said, and nothing is written.
func TestArrayErrors(t *testing.T) {
	own, far := newLimb(t, Spec{Segments: 3}), newLimb(t, Spec{Segments: 3, Twist: chain.Tip})
	var x [64]float32
	const mark = 7
	most := strconv.FormatUint(math.MaxUint, 10)
	for i := range x {
		x[i] = mark
	}
	p := &x[0]
	at := func(stride, segment uint) *Layout[float32] { return &Layout[float32]{p, p, p, p, stride, segment} }
	good := at(4, 4)
	packed := func(h Handle, dst, joints, tips *float32, n uint64) func() error {
		return func() error { _, err := SolvePacked(h, dst, joints, tips, n); return err }
	}
	layout := func(h Handle, dst, joints, tips *Layout[float32], n uint64) func() error {
		return func() error { _, err := SolveLayout(h, dst, joints, tips, n, 8); return err }
	}
	for _, c := range []struct {
		call   func() error
		status Status
		want   string
	}{
		{packed(0, p, p, p, 1), BadLimb, "limb is 0"},
		{packed(own, nil, p, p, 1), BadArgument, "dst is null"},
		{packed(own, p, nil, p, 1), BadArgument, "joints is null"},
		{packed(far, p, p, nil, 1), BadArgument, "tips is null, expected rotations of the tip: the limb has tip shares"},
		{packed(own, p, p, nil, math.MaxUint64), BadArgument, "n is 18446744073709551615, expected"},
		{packed(own, p, p, nil, mostPoses), BadArgument, "dst takes 12 numbers each"},
		{packed(own, p, p, nil, mostPoses+1), BadArgument, "n is"},
		{packed(own, p, p, nil, mostPoses/3+1), BadArgument, "n is"},
		{layout(1, good, good, nil, 1), BadLimb, "limb 1 has been freed"},
		{layout(own, nil, good, nil, 1), BadArgument, "dst is null"},
		{layout(own, nil, good, nil, 0), BadArgument, "dst is null"},
		{layout(own, good, nil, nil, 1), BadArgument, "joints is null"},
		{layout(far, good, good, nil, 1), BadArgument, "tips is null"},
		{layout(own, &Layout[float32]{Y: p, Z: p, W: p, Stride: 4, Segment: 4}, good, nil, 1), BadArgument, "dst->x is null"},
		{layout(own, good, &Layout[float32]{X: p, Y: p, Z: p}, nil, 1), BadArgument, "joints->w is null"},
		{layout(far, good, good, &Layout[float32]{X: p, Y: p, W: p}, 1), BadArgument, "tips->z is null"},
		{layout(own, at(0, 4), good, nil, 2), BadArgument, "dst has stride 0 and segment 4, expected steps of 1 or more"},
		{layout(own, at(12, 0), good, nil, 1), BadArgument, "dst has stride 12 and segment 0"},
		{layout(own, at(math.MaxUint, 4), good, nil, 2), BadArgument, "dst has stride " + most},
		{layout(own, at(math.MaxUint, 4), good, nil, 1), BadArgument, "dst has stride"},
		{layout(own, at(12, math.MaxUint), good, nil, 2), BadArgument, "dst has stride 12 and segment " + most},
		{layout(own, at(math.MaxUint/4+1, 4), good, nil, 5), BadArgument, "dst has stride"}, // 4 times that is 0
		{layout(own, at(12, math.MaxUint/2+1), good, nil, 1), BadArgument, "dst has stride"},
		{layout(own, good, at(mostNumbers/8+1, 0), nil, 9), BadArgument, "joints has stride"},
		{layout(own, at(4, 4), good, nil, 2), BadArgument, "dst has stride 4 and segment 4, expected steps by which 2 poses of 3 segments do not overlap, such as a stride of 9 or more"},
		{layout(own, at(8, 4), good, nil, 2), BadArgument, "dst has stride 8 and segment 4"},
		{layout(own, good, good, nil, math.MaxUint64), BadArgument, "n is"},
	} {
		err := c.call()
		require.ErrorContains(t, err, c.want)
		require.Equal(t, c.status, StatusOfError(err), c.want)
	}
	for i := range x {
		require.EqualValues(t, mark, x[i])
	}
	// No pose is no work, and asks for nothing.
	require.NoError(t, packed(far, nil, nil, nil, 0)())
	require.NoError(t, layout(own, &Layout[float32]{}, &Layout[float32]{}, nil, 0)())
	require.NoError(t, Free(own))
	require.NoError(t, Free(far))
}

func TestSolveErrors(t *testing.T) {
	h := newLimb(t, Spec{Twist: chain.Tip})
	l, err := Lookup(h)
	require.NoError(t, err)
	for want, call := range map[string]func() (Result, Status, error){
		"segments has 7 numbers, expected 8": func() (Result, Status, error) { return l.Solve(make([]float64, 7), &joint, &tip) },
		"joint is null":                      func() (Result, Status, error) { return l.Solve(make([]float64, 8), nil, &tip) },
		"tip is null":                        func() (Result, Status, error) { return l.Solve(make([]float64, 8), &joint, nil) },
	} {
		_, status, err := call()
		require.ErrorContains(t, err, want)
		require.Equal(t, BadArgument, status)
		require.Equal(t, status, StatusOfError(err))
	}
	require.NoError(t, Free(h))
}

func TestAllocatesNothing(t *testing.T) {
	h := newLimb(t, hip())
	l, err := Lookup(h)
	require.NoError(t, err)
	joints, dst := random[float32](4*poses), make([]float32, 16*poses)
	to, from := Layout[float32]{&dst[0], &dst[1], &dst[2], &dst[3], 16, 4}, Layout[float32]{&joints[0], &joints[1], &joints[2], &joints[3], 4, 0}
	one, axis := make([]float64, 16), [3]float64{0, 1, 0}
	for name, call := range map[string]func(){
		"packed": func() { _, _ = SolvePacked(h, &dst[0], &joints[0], nil, poses) },
		"layout": func() { _, _ = SolveLayout(h, &to, &from, nil, poses, 1) },
		"one":    func() { _, _, _ = l.Solve(one, &joint, nil) },
		"aim":    func() { _, _ = AimPacked(&axis, &dst[0], &joints[0], &joints[0], poses) },
		"lookup": func() { _, _ = Lookup(h) },
	} {
		require.Zero(t, testing.AllocsPerRun(100, call), name)
	}
	require.NoError(t, Free(h))
}

// The doors hand structs over by address.
func TestLayoutOfStructs(t *testing.T) {
	word := unsafe.Sizeof(uintptr(0))
	require.Equal(t, 6*word, unsafe.Sizeof(Layout[float32]{}))
	require.Equal(t, 4*word, unsafe.Offsetof(Layout[float64]{}.Stride))
	require.EqualValues(t, 32, unsafe.Sizeof(Result{}))
	require.EqualValues(t, 16, unsafe.Offsetof(Result{}.Condition))
}
