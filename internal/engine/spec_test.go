package engine

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	nan               = math.NaN()
	down, ahead, left = [3]float64{0, -1, 0}, [3]float64{0, 0, 1}, [3]float64{1, 0, 0}
	someRest          = [4]float64{.5, -.5, .5, .5}
	joint             = [4]float64{.1, -.4, .3, .8}
	tip               = [4]float64{-.2, .5, .1, .7}
)

// hip is a thigh that hangs at rest.
func hip() Spec {
	return Spec{Axis: down, Segments: 4, Range: RangeHip, Down: down, Forward: ahead, Out: left}
}

func solved(t *testing.T, h Handle) []float64 {
	t.Helper()
	l, err := Lookup(h)
	require.NoError(t, err)
	out := make([]float64, 4*l.Segments())
	_, _, err = l.Solve(out, &joint, &tip)
	require.NoError(t, err)
	return out
}

func requireMade(t *testing.T, h Handle, err error) {
	t.Helper()
	if err != nil && !IsRemark(err) {
		require.Equal(t, BadSpec, StatusOfError(err), err)
		require.NotEmpty(t, Line(err.Error(), 1023))
		return
	}
	for _, x := range solved(t, h) {
		require.LessOrEqual(t, x*x, 1+1e-14)
	}
	require.NoError(t, Free(h))
}

func toQuat(q [4]float64) quat.Number {
	return quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}
}

// A specification is chain's in other words.
func TestSpecIsChains(t *testing.T) {
	body := chain.Range{Flexion: [2]float64{-.5, 1.5}, Abduction: [2]float64{-.25, .5}, Down: vector(down), Forward: vector(ahead), Out: vector(left)}
	const degrees = 180 / math.Pi
	for name, c := range map[string]struct {
		spec Spec
		limb chain.Limb
	}{
		"zero": {Spec{}, chain.Limb{}},
		"own": {
			Spec{Axis: [3]float64{3, 0, 4}, Segments: 5, Ramp: chain.Smooth, JointRest: someRest, AnchorRest: tip},
			chain.Limb{Axis: r3.Vec{X: 3, Z: 4}, Segments: 5, Ramp: chain.Smooth, JointRest: rest.Frame{Rotation: toQuat(someRest)}, AnchorRest: rest.Frame{Rotation: toQuat(tip)}},
		},
		"tip": {
			Spec{Twist: chain.Tip, TipShares: []float64{0, .25, 1}, TipRest: someRest},
			chain.Limb{Twist: chain.Tip, TipShares: []float64{0, .25, 1}, TipRest: rest.Frame{Rotation: toQuat(someRest)}},
		},
		"both": {
			Spec{Shares: []float64{0, .5, 1}, TipShares: []float64{0, .25, 1}},
			chain.Limb{Shares: []float64{0, .5, 1}, TipShares: []float64{0, .25, 1}},
		},
		"given": {
			Spec{CentreMode: chain.Given, Centre: [3]float64{1, 2, 0}},
			chain.Limb{Centre: chain.Centre{Mode: chain.Given, Direction: r3.Vec{X: 1, Y: 2}}},
		},
		"hip": {hip(), chain.Limb{Axis: vector(down), Segments: 4, Range: chain.Hip(vector(down), vector(ahead), vector(left))}},
		"shoulder": {
			Spec{Range: RangeShoulder, Axis: left, Down: down, Forward: ahead, Out: left, Field: chain.Centred},
			chain.Limb{Axis: vector(left), Field: chain.Centred, Range: chain.Shoulder(vector(down), vector(ahead), vector(left))},
		},
		"wrist": {
			Spec{Range: RangeWrist, Axis: down, Down: down, Forward: ahead, Out: left},
			chain.Limb{Axis: vector(down), Range: chain.Wrist(vector(down), vector(ahead), vector(left))},
		},
		"limits": {
			Spec{Range: RangeLimits, Axis: down, Down: down, Forward: ahead, Out: left, FlexionDeg: [2]float64{-.5 * degrees, 1.5 * degrees}, AbductionDeg: [2]float64{-.25 * degrees, .5 * degrees}},
			chain.Limb{Axis: vector(down), Range: body},
		},
	} {
		t.Run(name, func(t *testing.T) {
			solver, err := chain.NewSolver(c.limb)
			require.NoError(t, err)
			want := make([]quat.Number, solver.Segments())
			r := solver.Solve(want, toQuat(joint), toQuat(tip))

			h := newLimb(t, c.spec)
			l, err := Lookup(h)
			require.NoError(t, err)
			got := make([]float64, 4*l.Segments())
			result, status, err := l.Solve(got, &joint, &tip)
			require.NoError(t, err)
			require.Equal(t, OK, status)
			require.Equal(t, Result{r.Twist, r.TipTwist, r.Condition, r.TipCondition}, result)
			for i, q := range want {
				require.Equal(t, []float64{q.Imag, q.Jmag, q.Kmag, q.Real}, got[4*i:4*i+4])
			}
			require.NoError(t, Free(h))
		})
	}
}

// Whatever is wrong with a field, its name is in the message.
func TestSpecErrors(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		want string
		spec func(*Spec)
	}{
		{"axis is [NaN 0 0], expected a finite direction", func(s *Spec) { s.Axis = [3]float64{nan} }},
		{"axis is [0 +Inf 0]", func(s *Spec) { s.Axis = [3]float64{0, inf} }},
		{"segments is 1, expected 2 to 32", func(s *Spec) { s.Segments = 1 }},
		{"segments is 33", func(s *Spec) { s.Segments = 33 }},
		{"segments is -2147483648", func(s *Spec) { s.Segments = math.MinInt32 }},
		{"twist is 2, expected 0 for own or 1 for tip", func(s *Spec) { s.Twist = 2 }},
		{"twist is -1", func(s *Spec) { s.Twist = -1 }},
		{"ramp is 2, expected", func(s *Spec) { s.Ramp = 2 }},
		{"shares[1] is 2, expected 0 to 1", func(s *Spec) { s.Shares = []float64{0, 2} }},
		{"shares has 3 numbers, expected 4", func(s *Spec) { s.Shares = []float64{0, .5, 1} }},
		{"shares", func(s *Spec) { s.Segments, s.Shares = 0, []float64{} }},
		{"tip_shares[0] is NaN", func(s *Spec) { s.TipShares = []float64{nan, 1} }},
		{"tip_shares has 2 numbers, expected 4", func(s *Spec) { s.TipShares = []float64{0, 1} }},
		{"tip_shares has 3 numbers and shares 2", func(s *Spec) { s.Segments, s.Shares, s.TipShares = 0, []float64{0, 1}, []float64{0, 0, 1} }},
		{"field is 5, expected", func(s *Spec) { s.Field = 5 }},
		{"field is balanced and range none, expected range", func(s *Spec) { s.Field, s.Range = chain.Balanced, RangeNone }},
		{"field is least_roll and range none, expected range hip, shoulder, wrist or limits", func(s *Spec) { s.Field, s.Range = chain.LeastRoll, RangeNone }},
		{"field is least_roll and range none", func(s *Spec) {
			s.Field, s.Range, s.CentreMode, s.Centre = chain.LeastRoll, RangeNone, chain.Given, down
		}},
		{"field is centred, range none and centre auto, expected range hip, shoulder, wrist or limits, or a given centre", func(s *Spec) { s.Field, s.Range = chain.Centred, RangeNone }},
		{"centre is [0 0 1] and centre_mode 0, expected 2 for a given centre, or no centre", func(s *Spec) { s.Centre = ahead }},
		{"centre is [NaN 0 0] and centre_mode 1", func(s *Spec) { s.CentreMode, s.Centre = chain.None, [3]float64{nan} }},
		{"flexion_deg is [0 90] and range 1, expected 4 for limits, or no limits", func(s *Spec) { s.FlexionDeg = [2]float64{0, 90} }},
		{"abduction_deg is [0 45] and range 0", func(s *Spec) { s.Range, s.AbductionDeg = RangeNone, [2]float64{0, 45} }},
		{"centre_mode is 3, expected", func(s *Spec) { s.CentreMode = 3 }},
		{"centre is [0, 0, 0], expected", func(s *Spec) { s.CentreMode = chain.Given }},
		{"centre is [NaN, 0, 0], expected", func(s *Spec) { s.CentreMode, s.Centre = chain.Given, [3]float64{nan} }},
		{"centre points against the bone", func(s *Spec) { s.CentreMode, s.Centre = chain.Given, [3]float64{0, 1, 0} }},
		{"range is 5, expected", func(s *Spec) { s.Range = 5 }},
		{"flexion_deg is [10 -10], expected", func(s *Spec) {
			s.Range, s.FlexionDeg, s.AbductionDeg = RangeLimits, [2]float64{10, -10}, [2]float64{-1, 1}
		}},
		{"flexion_deg is [-181 10]", func(s *Spec) {
			s.Range, s.FlexionDeg, s.AbductionDeg = RangeLimits, [2]float64{-181, 10}, [2]float64{-1, 1}
		}},
		{"abduction_deg is [-1 91]", func(s *Spec) {
			s.Range, s.FlexionDeg, s.AbductionDeg = RangeLimits, [2]float64{-1, 1}, [2]float64{-1, 91}
		}},
		{"abduction_deg is [NaN 1]", func(s *Spec) {
			s.Range, s.FlexionDeg, s.AbductionDeg = RangeLimits, [2]float64{-1, 1}, [2]float64{nan, 1}
		}},
		{"down is [0 0 0], expected a direction of length 1", func(s *Spec) { s.Down = [3]float64{} }},
		{"forward is [0 0 2]", func(s *Spec) { s.Forward = [3]float64{0, 0, 2} }},
		{"out is [NaN 0 0]", func(s *Spec) { s.Out = [3]float64{nan} }},
		{"forward is [0 0 1] and out is [0 0.6 0.8], expected directions at right angles", func(s *Spec) { s.Out = [3]float64{0, .6, .8} }},
		{"anchor_rest is [NaN 0 0 0]", func(s *Spec) { s.AnchorRest = [4]float64{nan} }},
		{"joint_rest is [0 0 0 +Inf]", func(s *Spec) { s.JointRest = [4]float64{0, 0, 0, inf} }},
		{"tip_rest is [0 NaN 0 1]", func(s *Spec) { s.TipRest = [4]float64{0, nan, 0, 1} }},
	} {
		s := hip()
		c.spec(&s)
		h, err := New(s)
		require.ErrorContains(t, err, c.want)
		require.Regexp(t, "^"+`[a-z_]+[ \[:]`, err.Error())
		require.Equal(t, BadSpec, StatusOfError(err), c.want)
		require.Zero(t, h)
	}
}

// Lengths do not matter, however far from 1.
func TestSpecLengths(t *testing.T) {
	solve := func(s Spec) []float64 {
		h := newLimb(t, s)
		l, err := Lookup(h)
		require.NoError(t, err)
		out := make([]float64, 4*l.Segments())
		_, _, err = l.Solve(out, &joint, nil)
		require.NoError(t, err)
		require.NoError(t, Free(h))
		return out
	}
	s := Spec{Axis: [3]float64{3, 0, 4}, JointRest: someRest}
	want := solve(s)
	for _, scale := range []float64{0x1p-1000, 0x1p1000} {
		for i := range s.Axis {
			s.Axis[i] = scale * [3]float64{3, 0, 4}[i]
		}
		for i := range s.JointRest {
			s.JointRest[i] = scale * someRest[i]
		}
		require.Equal(t, want, solve(s))
	}
}
