package chain_test

import (
	"math"
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

// fieldSolver is a thigh with a field, whose root segment is the swing itself.
func fieldSolver(t require.TestingT, field chain.Field) *chain.Solver {
	solver, err := chain.NewSolver(chain.Limb{
		Axis: down, Segments: 2, Field: field, Range: chain.Hip(down, forward, left),
		AnchorRest: rest.Frame{Rotation: turnedFrame}, JointRest: rest.Frame{Rotation: turnedFrame},
	})
	require.NoError(t, err)
	return solver
}

// Both frames turned alike: the anchor's frame is the joint's.
var turnedFrame = quat.Number{Real: 0.5, Imag: 0.5, Jmag: -0.5, Kmag: 0.5}

// The kernel's swing, by way of one dot product and a table, is the swing
// package's, by way of arcs.
func TestRootIsTheField(t *testing.T) {
	const (
		arcs  = 1e-14 // components, of a handful of roundings
		table = 1e-13 // the correction's slope, 2 at the most, times the rounding of its place
	)
	for field, tolerance := range map[chain.Field]float64{chain.Shortest: arcs, chain.Centred: arcs, chain.LeastRoll: table, chain.Balanced: table} {
		solver := fieldSolver(t, field)
		require.Equal(t, field, solver.FieldKind())
		require.Equal(t, field >= chain.LeastRoll, solver.Field().IsCorrected())
		rapid.Check(t, func(t *rapid.T) {
			hip := chain.Hip(down, forward, left)
			to := hip.Direction(
				rapid.Float64Range(hip.Flexion[0]-0.5, hip.Flexion[1]+0.5).Draw(t, "flexion"),
				rapid.Float64Range(hip.Abduction[0]-0.5, hip.Abduction[1]+0.5).Draw(t, "abduction"))
			aim, _ := swing.Arc(down, to)
			joint := quat.Mul(aim, twist.About(down, rapid.Float64Range(-3, 3).Draw(t, "twist")))
			var segments [2]quat.Number
			solver.SolveFromRest(segments[:], joint, quat.Number{})
			want, _ := solver.Field().Swing(to)
			require.Less(t, off(want, segments[0]), tolerance)
			// The end is the joint, in every field.
			require.Less(t, off(joint, segments[1]), arcs)
		})
	}
}

func off(q, r quat.Number) float64 { return min(quat.Abs(quat.Sub(q, r)), quat.Abs(quat.Add(q, r))) }

// Rest is exact in every field, whichever way its quaternion points.
func TestFieldsRestExactly(t *testing.T) {
	for _, field := range []chain.Field{chain.AnyField, chain.Shortest, chain.Centred, chain.LeastRoll, chain.Balanced} {
		solver := fieldSolver(t, field)
		for _, identity := range []float64{1, -1, 2, -0.25} {
			var segments [2]quat.Number
			result := solver.Solve(segments[:], quat.Number{Real: identity}, quat.Number{})
			require.Equal(t, quat.Number{Real: 1}, segments[0])
			require.Equal(t, quat.Number{Real: 1}, segments[1])
			require.Zero(t, result.Twist)
		}
	}
}

func TestWhichField(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	all := chain.Range{Flexion: [2]float64{-math.Pi, math.Pi}, Abduction: [2]float64{-math.Pi / 2, math.Pi / 2}, Down: down, Forward: forward, Out: left}
	thin := hip
	thin.Abduction = [2]float64{0, 0}
	given := chain.Centre{Mode: chain.Given, Direction: forward}
	none := chain.Centre{Mode: chain.None}
	for _, c := range []struct {
		what string
		limb chain.Limb
		want chain.Field
		err  string
	}{
		{"nothing known", chain.Limb{}, chain.Shortest, ""},
		{"range known", chain.Limb{Axis: down, Range: hip}, chain.Balanced, ""},
		{"centre given", chain.Limb{Axis: down, Range: hip, Centre: given}, chain.Centred, ""},
		{"the bone's own centre given", chain.Limb{Axis: forward, Range: hip, Centre: given}, chain.Shortest, ""},
		{"centre given, least roll", chain.Limb{Axis: down, Range: hip, Centre: given, Field: chain.LeastRoll}, chain.LeastRoll, ""},
		{"centre given, balanced", chain.Limb{Axis: down, Range: hip, Centre: given, Field: chain.Balanced}, chain.Balanced, ""},
		{"no centre", chain.Limb{Axis: down, Range: hip, Centre: none}, chain.Shortest, ""},
		{"shortest", chain.Limb{Axis: down, Range: hip, Field: chain.Shortest}, chain.Shortest, ""},
		{"centred", chain.Limb{Axis: down, Range: hip, Field: chain.Centred}, chain.Centred, ""},
		{"least roll", chain.Limb{Axis: down, Range: hip, Field: chain.LeastRoll}, chain.LeastRoll, ""},
		{"a range without area", chain.Limb{Axis: down, Range: thin}, chain.Shortest, ""},
		{"rest away from the range", chain.Limb{Axis: r3.Scale(-1, hip.Middle()), Range: hip}, chain.Shortest, ""},
		{"the whole sphere", chain.Limb{Axis: down, Range: all, Field: chain.LeastRoll}, 0, "chain: limb: range: flexion -180 to 180, abduction -90 to 90 degrees: no least_roll field: the region reaches farther than 170 degrees from the centre"},
		{"shortest with a centre", chain.Limb{Axis: down, Centre: given, Field: chain.Shortest}, 0, "chain: limb: field is shortest, which goes by no centre, and a centre is given"},
		{"least roll with none", chain.Limb{Axis: down, Range: hip, Centre: none, Field: chain.LeastRoll}, 0, "chain: limb: field is least_roll and centre none, expected a centre or a range"},
		{"balanced with none", chain.Limb{Axis: down, Range: hip, Centre: none, Field: chain.Balanced}, 0, "chain: limb: field is balanced and centre none, expected a centre or a range"},
		{"balanced without a range", chain.Limb{Axis: down, Field: chain.Balanced}, 0, "chain: limb: field is balanced, expected a range of motion"},
		{"balanced without area", chain.Limb{Axis: down, Range: thin, Field: chain.Balanced}, 0, "abduction 0 to 0 degrees: no balanced field: latitudes are [0, 0]"},
		{"unknown", chain.Limb{Field: 7}, 0, "chain: limb: field is 7, expected AnyField, Shortest, Centred, LeastRoll or Balanced"},
	} {
		solver, err := chain.NewSolver(c.limb)
		if c.err != "" {
			require.ErrorContains(t, err, c.err, c.what)
			continue
		}
		require.NoError(t, err, c.what)
		require.Equal(t, c.want, solver.FieldKind(), c.what)
		require.Equal(t, c.want >= chain.LeastRoll, solver.Field().IsCorrected(), c.what)
		require.Equal(t, c.want == chain.Shortest, r3.Norm(r3.Sub(solver.Centre(), solver.Axis())) < 1e-15, c.what)
	}
}

// Ranges in any frame share one table: a limb whose anchor is turned any way
// solves as one whose anchor is not.
func TestBestTurnsWithTheBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := quat.Number{
			Real: rapid.Float64Range(0.1, 1).Draw(t, "w"), Imag: rapid.Float64Range(-1, 1).Draw(t, "x"),
			Jmag: rapid.Float64Range(-1, 1).Draw(t, "y"), Kmag: rapid.Float64Range(-1, 1).Draw(t, "z"),
		}
		turn = quat.Scale(1/quat.Abs(turn), turn)
		to := rest.Frame{Rotation: turn}.Direction
		one, err := chain.NewSolver(chain.Limb{Axis: down, Range: chain.Hip(down, forward, left)})
		require.NoError(t, err)
		two, err := chain.NewSolver(chain.Limb{Axis: to(down), Range: chain.Hip(to(down), to(forward), to(left))})
		require.NoError(t, err)
		joint := twist.About(r3.Vec{
			X: rapid.Float64Range(-1, 1).Draw(t, "a"), Y: rapid.Float64Range(-1, 1).Draw(t, "b"), Z: 0.1,
		}, rapid.Float64Range(-2, 2).Draw(t, "angle"))
		turned := quat.Mul(quat.Mul(turn, joint), quat.Conj(turn))
		var a, b [2]quat.Number
		one.Solve(a[:], joint, quat.Number{})
		two.Solve(b[:], turned, quat.Number{})
		for i := range a {
			want := quat.Mul(quat.Mul(turn, a[i]), quat.Conj(turn))
			require.Less(t, off(want, b[i]), 1e-12) // a thousand roundings, and the singular pose is far
		}
	})
}

func TestWristRange(t *testing.T) {
	wrist := chain.Wrist(down, forward, left)
	require.Equal(t, [2]float64{-70 * degree, 80 * degree}, wrist.Flexion)
	require.Equal(t, [2]float64{-30 * degree, 20 * degree}, wrist.Abduction)
}

func TestAnglesAndBeyond(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	for _, c := range []struct{ flexion, abduction, beyond float64 }{
		{0, 0, 0}, {120, 45, 0}, {-30, -30, 0}, {130, 0, 10}, {0, 60, 15}, {-45, 0, 15}, {250, 0, 80},
	} {
		direction := hip.Direction(c.flexion*degree, c.abduction*degree)
		flexion, abduction := hip.Angles(r3.Scale(3, direction))
		require.InDelta(t, math.Remainder((flexion-c.flexion*degree), 2*math.Pi), 0, 1e-14)
		require.InDelta(t, c.abduction*degree, abduction, 1e-14)
		require.InDelta(t, c.beyond*degree, hip.Beyond(r3.Scale(3, direction)), 1e-12, "%v", c)
	}
}
