package chain_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// componentError is the documented error of a solve, and solveTolerance what a
// test that goes through a few more products allows itself.
const (
	componentError = 4e-15
	solveTolerance = 4 * componentError
)

func same(t require.TestingT, want, got quat.Number, tolerance float64, about ...any) {
	if want.Real*got.Real+want.Imag*got.Imag+want.Jmag*got.Jmag+want.Kmag*got.Kmag < 0 {
		got = quat.Scale(-1, got)
	}
	require.InDelta(t, want.Real, got.Real, tolerance, about...)
	require.InDelta(t, want.Imag, got.Imag, tolerance, about...)
	require.InDelta(t, want.Jmag, got.Jmag, tolerance, about...)
	require.InDelta(t, want.Kmag, got.Kmag, tolerance, about...)
}

func rotationOf(r *rapid.T, label string) quat.Number {
	parts := rapid.SliceOfN(rapid.Float64Range(-1, 1), 4, 4).
		Filter(func(v []float64) bool { return v[0]*v[0]+v[1]*v[1]+v[2]*v[2]+v[3]*v[3] > 1e-6 }).Draw(r, label)
	q := quat.Number{Real: parts[0], Imag: parts[1], Jmag: parts[2], Kmag: parts[3]}
	return quat.Scale(1/quat.Abs(q), q)
}

func directionOf(r *rapid.T, label string) r3.Vec {
	parts := rapid.SliceOfN(rapid.Float64Range(-1, 1), 3, 3).
		Filter(func(v []float64) bool { return v[0]*v[0]+v[1]*v[1]+v[2]*v[2] > 1e-6 }).Draw(r, label)
	return r3.Unit(r3.Vec{X: parts[0], Y: parts[1], Z: parts[2]})
}

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

func randomRotation(r *rand.Rand) quat.Number {
	q := quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()}
	return quat.Scale(1/quat.Abs(q), q)
}

func rotate(q quat.Number, v r3.Vec) r3.Vec { return rest.Frame{Rotation: q}.Direction(v) }

func solver(t require.TestingT, l chain.Limb) *chain.Solver {
	s, err := chain.NewSolver(l)
	require.NoError(t, err)
	return s
}

func solve(s *chain.Solver, joint, tip quat.Number) ([]quat.Number, chain.Result) {
	dst := make([]quat.Number, s.Segments())
	return dst, s.Solve(dst, joint, tip)
}

// The law, written out from the split: segment i is s t^k_i from rest.
func lawProperty(r *rapid.T) {
	axis := directionOf(r, "axis")
	q := rotationOf(r, "joint")
	n := rapid.IntRange(2, 6).Draw(r, "segments")
	s := solver(r, chain.Limb{Axis: axis, Segments: n, Centre: chain.Centre{Mode: chain.None}})
	parts, defined := twist.Split(q, axis)
	if angle, _ := twist.Angle(q, axis); !defined || parts.Condition < 0.01 || math.Abs(angle) > 3.1 { // at the half turn either sign may come out
		return
	}
	dst := make([]quat.Number, n)
	result := s.SolveFromRest(dst, q, quat.Number{})
	angle, _ := twist.Angle(q, axis)
	tolerance := solveTolerance / parts.Condition
	require.InDelta(r, angle, result.Twist, tolerance)
	for i, share := range twist.Linear(n) {
		same(r, quat.Mul(parts.Swing, twist.About(axis, share*angle)), dst[i], tolerance, "segment %d", i)
	}
}

func TestLaw(t *testing.T)   { rapid.Check(t, lawProperty) }
func FuzzLaw(f *testing.F)   { f.Fuzz(rapid.MakeFuzz(lawProperty)) }
func TestFrame(t *testing.T) { rapid.Check(t, frameProperty) }

// A change of frame changes nothing but the frame: turning axis, joint and
// centre by any rotation turns every segment with them.
func frameProperty(r *rapid.T) {
	axis, centre := directionOf(r, "axis"), directionOf(r, "centre")
	q, g := rotationOf(r, "joint"), rotationOf(r, "frame")
	if r3.Dot(axis, centre) < -0.9 {
		return
	}
	given := chain.Centre{Mode: chain.Given, Direction: centre}
	turned := chain.Centre{Mode: chain.Given, Direction: rotate(g, centre)}
	plain, result := solve(solver(r, chain.Limb{Axis: axis, Segments: 4, Centre: given}), q, quat.Number{})
	moved, _ := solve(solver(r, chain.Limb{Axis: rotate(g, axis), Segments: 4, Centre: turned}), quat.Mul(quat.Mul(g, q), quat.Conj(g)), quat.Number{})
	if result.Condition < 0.01 || math.Abs(result.Twist) > 3.1 { // at the half turn either sign may come out
		return
	}
	for i := range plain {
		same(r, quat.Mul(quat.Mul(g, plain[i]), quat.Conj(g)), moved[i], 4*solveTolerance/result.Condition)
	}
}

// With a centre, the swing is arc(c to d) arc(a to c) and the rest is twist.
func centreProperty(r *rapid.T) {
	axis, centre := directionOf(r, "axis"), directionOf(r, "centre")
	q := rotationOf(r, "joint")
	to := rotate(q, axis)
	if r3.Dot(axis, centre) < -0.9 || r3.Dot(to, centre) < -0.9 {
		return
	}
	s := solver(r, chain.Limb{Axis: axis, Segments: 2, Centre: chain.Centre{Mode: chain.Given, Direction: centre}})
	dst := make([]quat.Number, 2)
	result := s.SolveFromRest(dst, q, quat.Number{})
	want, _ := swing.Centred(axis, centre, to)
	same(r, want, dst[0], 1e-13)
	same(r, want, s.Swing(q, result), 1e-13)
	same(r, q, dst[1], solveTolerance)
}

func TestCentre(t *testing.T) { rapid.Check(t, centreProperty) }
func FuzzCentre(f *testing.F) { f.Fuzz(rapid.MakeFuzz(centreProperty)) }

// q and -q are one rotation: the same bits come out.
func TestSignOfInputDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := solver(r, chain.Limb{Axis: directionOf(r, "axis"), Segments: 3, Twist: chain.Tip})
		q, tip := rotationOf(r, "joint"), rotationOf(r, "tip")
		a, ra := solve(s, q, tip)
		b, rb := solve(s, quat.Scale(-1, q), quat.Scale(-1, tip))
		require.Equal(r, a, b)
		require.Equal(r, ra, rb)
	})
}

func TestRestIsTheIdentityExactly(t *testing.T) {
	identity := quat.Number{Real: 1}
	for _, l := range []chain.Limb{
		{},
		{Segments: 5, Ramp: chain.Smooth},
		{Axis: r3.Vec{X: 1, Y: -2, Z: 0.3}, Twist: chain.Tip, Segments: 4},
		{Centre: chain.Centre{Mode: chain.Given, Direction: r3.Vec{X: 1, Y: 2, Z: 3}}, Segments: 3},
		{Range: chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}), Axis: r3.Vec{Y: -1}},
	} {
		dst, result := solve(solver(t, l), identity, identity)
		require.Zero(t, result.Twist)
		for _, q := range dst {
			require.Equal(t, identity, q)
		}
	}
}

// A pure twist of a thigh: none of it at the torso, all of it at the knee.
func TestOwnTwistIsRampedFromRootToEnd(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 0.2, Y: -1, Z: 0.1})
	for _, degrees := range []float64{-179, -90, -1, 1, 45, 90, 179} {
		angle := degrees * math.Pi / 180
		s := solver(t, chain.Limb{Axis: axis, Segments: 4})
		dst := make([]quat.Number, 4)
		s.SolveFromRest(dst, twist.About(axis, angle), quat.Number{})
		same(t, quat.Number{Real: 1}, dst[0], solveTolerance, "root")
		same(t, twist.About(axis, angle/3), dst[1], solveTolerance)
		same(t, twist.About(axis, angle), dst[3], solveTolerance, "end")
	}
}

// A hand's bend leaves the forearm alone; its turn about the forearm carries
// the wrist end along and the elbow end not at all.
func TestTipTwistIsRampedFromElbowToWrist(t *testing.T) {
	axis := r3.Vec{X: 1}
	s := solver(t, chain.Limb{Axis: axis, Segments: 3, Twist: chain.Tip})
	elbow := twist.About(r3.Vec{Y: 1}, 1.2)
	for _, bendAxis := range []r3.Vec{{Y: 1}, {Z: 1}, {Y: 0.6, Z: -0.8}} {
		dst, result := solve(s, elbow, twist.About(bendAxis, 1.1))
		require.Zero(t, result.TipTwist)
		for _, q := range dst {
			require.Equal(t, quat.Number{Real: 1}, q)
		}
	}
	dst, result := solve(s, elbow, twist.About(axis, -1.3))
	require.InDelta(t, -1.3, result.TipTwist, 1e-15)
	require.Equal(t, quat.Number{Real: 1}, dst[0])
	same(t, twist.About(axis, -0.65), dst[1], solveTolerance)
	same(t, twist.About(axis, -1.3), dst[2], solveTolerance)
}

// Both laws at once: alpha_i = (k_i - 1) tau + m_i sigma.
func TestGeneralLaw(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 1})
	k, m := []float64{0, 0.25, 1}, []float64{0.5, 0, 1}
	s := solver(t, chain.Limb{Axis: axis, Shares: k, TipShares: m})
	const tau, sigma = 1.1, -2.3
	dst, result := solve(s, twist.About(axis, tau), twist.About(axis, sigma))
	angles := make([]float64, 3)
	require.Equal(t, result, s.Angles(angles, twist.About(axis, tau), twist.About(axis, sigma)))
	for i := range dst {
		require.InDelta(t, (k[i]-1)*tau+m[i]*sigma, angles[i], 1e-15)
		same(t, twist.About(axis, angles[i]), dst[i], solveTolerance)
		require.GreaterOrEqual(t, dst[i].Real, 0.0)
	}
}

func TestUndefinedTwistIsSaidAndTakenAsNone(t *testing.T) {
	s := solver(t, chain.Limb{})
	for _, q := range []quat.Number{{Imag: 1}, {Kmag: -1}, {}} {
		dst, result := solve(s, q, quat.Number{})
		require.False(t, result.Defined)
		require.Zero(t, result.Twist)
		require.Equal(t, []quat.Number{{Real: 1}, {Real: 1}}, dst)
	}
	dst, result := solve(s, quat.NaN(), quat.Number{})
	require.False(t, result.Defined)
	require.True(t, quat.IsNaN(dst[0]))
}

func TestBatchEqualsOneByOne(t *testing.T) {
	r := random(3)
	s := solver(t, chain.Limb{Axis: r3.Vec{X: 1, Y: 2, Z: 3}, Segments: 4, Twist: chain.Tip})
	joints, tips := make([]quat.Number, 50), make([]quat.Number, 50)
	for i := range joints {
		joints[i], tips[i] = randomRotation(r), randomRotation(r)
	}
	batch := make([]quat.Number, 200)
	outcome, err := chain.NewBatch[float64](s).Solve(chain.Numbers(batch, 4), chain.Numbers(joints, 1), chain.Numbers(tips, 1), 50)
	require.NoError(t, err)
	require.Equal(t, chain.Outcome{}, outcome)
	for i := range joints {
		one, _ := solve(s, joints[i], tips[i])
		require.Equal(t, one, batch[4*i:4*i+4])
	}
}

func TestSolveDoesNotAllocate(t *testing.T) {
	r := random(4)
	s := solver(t, chain.Limb{Segments: 4, Twist: chain.Tip, Layers: []chain.Layer{chain.FollowAnchor, chain.AimEnd, chain.AimEnd}})
	dst, frames := make([]quat.Number, 4), make([]rest.Frame, 4)
	joint, tip := randomRotation(r), randomRotation(r)
	pose := chain.Pose{Joint: rest.Frame{Rotation: joint}, Tip: rest.Frame{Rotation: tip}}
	batch, joints, several, angles := chain.NewBatch[float64](s), []quat.Number{joint, tip}, make([]quat.Number, 8), make([]float64, 8)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		s.Solve(dst, joint, tip)
		s.SolveFromRest(dst, joint, tip)
		s.SolveWorld(frames, pose)
		batch.Solve(chain.Numbers(several, 4), chain.Numbers(joints, 1), chain.Numbers(joints, 1), 2)
		batch.Angles(angles, chain.Numbers(joints, 1), chain.Numbers(joints, 1), 2)
	}))
}

func TestConcurrentUse(t *testing.T) {
	s := solver(t, chain.Limb{Segments: 4})
	r := random(5)
	q := randomRotation(r)
	want, _ := solve(s, q, quat.Number{})
	done := make(chan bool)
	for range 8 {
		go func() {
			got := make([]quat.Number, 4)
			ok := true
			for range 1000 {
				s.Solve(got, q, quat.Number{})
				for i := range got {
					ok = ok && got[i] == want[i]
				}
			}
			done <- ok
		}()
	}
	for range 8 {
		require.True(t, <-done)
	}
}

func TestErrorsNameLimbAndField(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		limb chain.Limb
		want string
	}{
		{chain.Limb{Name: "left thigh", Shares: []float64{0, 1.5}}, `chain: limb "left thigh": shares: shares[1] = 1.5, expected 0 to 1`},
		{chain.Limb{TipShares: []float64{0, nan}}, `chain: limb: tip shares: shares[1] = NaN, expected 0 to 1`},
		{chain.Limb{Segments: 1}, `chain: limb: segments is 1, expected 2 to 32`},
		{chain.Limb{Segments: 3, Shares: []float64{0, 1}}, `chain: limb: shares: 2 shares, expected 3`},
		{chain.Limb{Axis: r3.Vec{X: nan}}, `chain: limb: axis is [NaN, 0, 0], expected a finite direction of non-zero length`},
		{chain.Limb{Length: -1}, `chain: limb: length is -1, expected a finite number of metres, 0 or more`},
		{chain.Limb{Twist: 7}, `chain: limb: twist is 7, expected Own or Tip`},
		{chain.Limb{Ramp: 7}, `chain: limb: ramp is 7, expected Linear or Smooth`},
		{chain.Limb{Layers: []chain.Layer{9}}, `chain: limb: layers[0] is 9, expected FollowAnchor, FollowJoint or AimEnd`},
		{chain.Limb{Centre: chain.Centre{Mode: chain.Given}}, `chain: limb: centre is [0, 0, 0], expected a finite direction of non-zero length`},
		{chain.Limb{Centre: chain.Centre{Mode: chain.Given, Direction: r3.Vec{Y: -1}}}, `chain: limb: centre points against the bone, expected a direction less than half a turn from it: its swing would be undefined at rest`},
		{chain.Limb{Centre: chain.Centre{Mode: 7}}, `chain: limb: centre mode is 7, expected Auto, None or Given`},
		{chain.Limb{JointRest: rest.Frame{Rotation: quat.Number{Real: nan}}}, `chain: limb: joint rest frame is not finite`},
		{chain.Limb{Range: chain.Range{Flexion: [2]float64{1, 0}}}, `chain: limb: range: flexion is [1, 0], expected least before greatest, within half a turn either way`},
		{chain.Limb{Range: chain.Range{Flexion: [2]float64{0, 1}}}, `chain: limb: range: down {0 0 0}, forward {0 0 0}, out {0 0 0} are not unit directions at right angles`},
	} {
		_, err := chain.NewSolver(c.limb)
		require.EqualError(t, err, c.want)
	}
}

func TestSpecIsNotLookedAtAgain(t *testing.T) {
	shares := []float64{0, 1}
	s := solver(t, chain.Limb{Shares: shares})
	shares[0] = 1
	own, tip := s.Shares()
	require.Equal(t, []float64{0, 1}, own)
	require.Nil(t, tip)
}

func BenchmarkSolve(b *testing.B) {
	s, err := chain.NewSolver(chain.Limb{Axis: r3.Vec{X: 1, Y: 2, Z: 3}, Segments: 4})
	if err != nil {
		b.Fatal(err)
	}
	r := random(6)
	joints := make([]quat.Number, 1024)
	for i := range joints {
		joints[i] = randomRotation(r)
	}
	dst := make([]quat.Number, 4)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Solve(dst, joints[i&1023], quat.Number{})
	}
}
