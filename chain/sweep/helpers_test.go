package sweep_test

import (
	"math"
	"sync"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Tolerances.
const (
	degree = math.Pi / 180
	// component is for unit quaternions and vectors that a few products
	// separate: 4e-15 of the solver's and as much of the test's own.
	component = 1e-14
	// rollTolerance is the references' own for tan(theta/2) by central
	// difference.
	rollTolerance = 1e-6
	// stepTolerance is what rounding leaves of a roll rate, times sqrt(1 + T^2)
	// (see sweep.Step).
	stepTolerance = 16 * 0x1p-52 / sweep.Step
)

// The body's directions of a character that looks along +Z, and its two sides.
var (
	down    = r3.Vec{Y: -1}
	forward = r3.Vec{Z: 1}
	left    = r3.Vec{X: 1}
	right   = r3.Vec{X: -1}
)

func TestMain(m *testing.M) {
	draw.FixSeed()
	m.Run()
}

var joints = []struct {
	name string
	of   func(down, forward, out r3.Vec) sweep.Motion
}{{"hip", sweep.Hip}, {"shoulder", sweep.Shoulder}, {"wrist", sweep.Wrist}}

var fields = []chain.Field{chain.Shortest, chain.Centred, chain.LeastRoll, chain.Balanced}

func rotate(q quat.Number, v r3.Vec) r3.Vec { return rest.Frame{Rotation: q}.Direction(v) }

// off is the largest difference of a component between q and the nearer of r
// and -r.
func off(q, r quat.Number) float64 {
	far := func(d quat.Number) float64 {
		return max(math.Abs(d.Real), math.Abs(d.Imag), math.Abs(d.Jmag), math.Abs(d.Kmag))
	}
	return min(far(quat.Sub(q, r)), far(quat.Add(q, r)))
}

func requireRotation(t require.TestingT, want, got quat.Number, tolerance float64, about ...any) {
	if o := off(want, got); !(o <= tolerance) {
		require.Failf(t, "rotations differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

func requireDirection(t require.TestingT, want, got r3.Vec, tolerance float64, about ...any) {
	if o := r3.Norm(r3.Sub(want, got)); !(o <= tolerance) {
		require.Failf(t, "directions differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

// requireAngle holds angles together that are known up to whole turns.
func requireAngle(t require.TestingT, want, got, tolerance float64, about ...any) {
	if o := math.Abs(math.Remainder(want-got, 2*math.Pi)); !(o <= tolerance) {
		require.Failf(t, "angles differ", "want %v, got %v, off by %g over %g: %v", want, got, o, tolerance, about)
	}
}

// solverOf makes the solver of a limb of three segments that hangs at rest.
func solverOf(t require.TestingT, m sweep.Motion, field chain.Field) *chain.Solver {
	s, err := chain.NewSolver(chain.Limb{Axis: m.Down, Segments: 3, Field: field, Range: m.Range})
	require.NoError(t, err)
	return s
}

func swingsOf(t require.TestingT, s *chain.Solver) *sweep.Swings {
	w, err := sweep.NewSwings(s)
	require.NoError(t, err)
	return w
}

// centred makes the swings of an axis by way of a centre.
func centred(t require.TestingT, axis, centre r3.Vec) *sweep.Swings {
	s, err := chain.NewSolver(chain.Limb{Axis: axis, Centre: chain.Centre{Mode: chain.Given, Direction: centre}})
	require.NoError(t, err)
	return swingsOf(t, s)
}

type side struct{ left, right *chain.Solver }

// allSolvers are those of every joint and field, made once.
var allSolvers = sync.OnceValue(func() map[string]map[chain.Field]side {
	out := map[string]map[chain.Field]side{}
	for _, j := range joints {
		out[j.name] = map[chain.Field]side{}
		for _, f := range fields {
			out[j.name][f] = side{solverOf(panics{}, j.of(down, forward, left), f), solverOf(panics{}, j.of(down, forward, right), f)}
		}
	}
	return out
})

// panics is a test that fails by panicking.
type panics struct{}

func (panics) Errorf(format string, args ...any) {}
func (panics) FailNow()                          { panic("no solver") }

// polar is the direction at the angle theta from axis, at phi around it from u,
// a unit direction across it.
func polar(axis, u r3.Vec, theta, phi float64) r3.Vec {
	sinT, cosT := math.Sincos(theta)
	sinP, cosP := math.Sincos(phi)
	return r3.Add(r3.Scale(cosT, axis), r3.Scale(sinT, r3.Add(r3.Scale(cosP, u), r3.Scale(sinP, r3.Cross(axis, u)))))
}

func drawUnit(t *rapid.T, label string) r3.Vec { return r3.Unit(draw.Unit().Draw(t, label)) }

func drawAngle(t *rapid.T, label string, limit float64) float64 {
	return rapid.Float64Range(-limit, limit).Draw(t, label)
}

// drawBody draws a body's directions, of either side.
func drawBody(t *rapid.T) (down, forward, out r3.Vec) {
	q := draw.UnitRotation().Draw(t, "body")
	out = rotate(q, r3.Vec{Z: 1})
	if rapid.Bool().Draw(t, "left") {
		out = r3.Scale(-1, out)
	}
	return rotate(q, r3.Vec{Y: -1}), rotate(q, r3.Vec{X: 1}), out
}

// solidAngle is a triangle's, positive where its corners go round it
// left-handed as seen from inside: tan(O/2) = [abc]/(1 + a·b + b·c + c·a), Van
// Oosterom and Strackee 1983, doi 10.1109/TBME.1983.325207.
func solidAngle(a, b, c r3.Vec) float64 {
	return 2 * math.Atan2(r3.Dot(a, r3.Cross(b, c)), 1+r3.Dot(a, b)+r3.Dot(b, c)+r3.Dot(c, a))
}

// solidAngleError bounds the error of solidAngle: the two parts of the arc
// tangent are good to some eps, and their length is 4 times the product of the
// cosines of half the sides.
func solidAngleError(a, b, c r3.Vec) float64 {
	return component / (r3.Norm(r3.Add(a, b)) * r3.Norm(r3.Add(b, c)) * r3.Norm(r3.Add(c, a)))
}

// The helper's own check: (1,0,0), (1,1,0), (1,1,1) span pi/12 (a 48th of the
// sphere, by symmetry of the cube).
func TestSolidAngle(t *testing.T) {
	require.InDelta(t, math.Pi/12, solidAngle(r3.Vec{X: 1}, r3.Unit(r3.Vec{X: 1, Y: 1}), r3.Unit(r3.Vec{X: 1, Y: 1, Z: 1})), 1e-15)
}
