package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func unitRotation(t *rapid.T, label string) quat.Number {
	a, b := drawUnit(t, label+" from"), drawUnit(t, label+" to")
	q, _ := swing.Arc(a, b)
	return quat.Mul(twist.About(b, drawAngle(t, label+" turn", math.Pi)), q)
}

// What every field has in common: each carries the axis to the direction, is the
// identity at rest, depends on the direction alone, and differs from another by
// a turn about the axis and no more.
func propertyFields(t *rapid.T) {
	joint := rapid.SampledFrom(joints).Draw(t, "joint")
	d := drawUnit(t, "d")
	var swings []quat.Number
	for _, field := range fields {
		solver := allSolvers()[joint.name][field].left
		w := swingsOf(t, solver)
		s, ok := w.At(d)
		requireDirection(t, d, rotate(s, down), component, "aim")
		still, also := w.At(down)
		require.True(t, also)
		// A cosine is divided by itself at rest, which may round.
		require.InDelta(t, 1, still.Real, 0x1p-52, "rest")
		require.Equal(t, quat.Number{Real: still.Real}, still, "rest")
		if !ok {
			return
		}
		swings = append(swings, s)

		// The joint's own twist leaves the swing as it is, as well as the twist
		// is determined: 8 eps/condition of either answer.
		segments := make([]quat.Number, 3)
		r := solver.SolveFromRest(segments, quat.Mul(s, twist.About(down, drawAngle(t, "twist", math.Pi))), quat.Number{Real: 1})
		requireRotation(t, s, segments[0], component/r.Condition, "twist")
	}
	for i := range swings {
		between := quat.Mul(quat.Conj(swings[0]), swings[i])
		requireDirection(t, r3.Vec{}, r3.Cross(r3.Vec{X: between.Imag, Y: between.Jmag, Z: between.Kmag}, down), component, "about the axis")
	}
}

func TestFields(t *testing.T) { rapid.Check(t, propertyFields) }
func FuzzFields(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyFields)) }

// tableTolerance is for the best field seen in the mirror: its table is float32,
// a rounding of 2^-24 of coefficients up to pi, and its solution good to less.
const tableTolerance = 4 * math.Pi * 0x1p-24

// The right limb is the left one in the mirror, in every field.
func propertyMirror(t *rapid.T) {
	joint := rapid.SampledFrom(joints).Draw(t, "joint")
	field := rapid.SampledFrom(fields).Draw(t, "field")
	pair := allSolvers()[joint.name][field]
	q := unitRotation(t, "q")
	one, other := make([]quat.Number, 3), make([]quat.Number, 3)
	r := pair.left.SolveFromRest(one, q, quat.Number{Real: 1})
	mirrored := pair.right.SolveFromRest(other, rest.AcrossX.Rotation(q), quat.Number{Real: 1})
	if r.Condition < 1e-3 || math.Abs(r.Twist) > math.Pi-1e-3 { // half a turn has two names
		return
	}
	tolerance := component / r.Condition
	if field == chain.LeastRoll || field == chain.Balanced {
		tolerance += tableTolerance
	}
	require.InDelta(t, -r.Twist, mirrored.Twist, 2*tolerance)
	for i := range one {
		requireRotation(t, rest.AcrossX.Rotation(one[i]), other[i], tolerance, "segment %d", i)
	}
}

func TestMirror(t *testing.T) { rapid.Check(t, propertyMirror) }
func FuzzMirror(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyMirror)) }

// Mirrored by the specification, frames and directions alike, it is the same.
func TestMirroredLimb(t *testing.T) {
	p := rest.AcrossX
	frame := rest.Frame{Position: r3.Vec{X: 0.1, Y: 1}, Rotation: quat.Number{Real: 0.9, Imag: 0.1, Jmag: -0.3, Kmag: 0.2}}
	anchor := rest.Frame{Rotation: quat.Number{Real: 0.5, Imag: -0.1, Jmag: 0.2, Kmag: 0.1}}
	q := quat.Number{Real: 0.6, Imag: 0.5, Jmag: 0.3, Kmag: -0.2}
	for _, field := range fields {
		m := sweep.Hip(down, forward, left)
		offset := quat.Mul(quat.Conj(frame.Unit()), anchor.Unit())
		limb := chain.Limb{Axis: rotate(offset, down), Segments: 3, Field: field, Range: m.Range, AnchorRest: anchor, JointRest: frame}
		mirrored := limb
		mirrored.Axis = p.Vec(limb.Axis)
		mirrored.AnchorRest, mirrored.JointRest = p.Frame(anchor), p.Frame(frame)
		mirrored.Range.Down, mirrored.Range.Forward, mirrored.Range.Out = p.Vec(down), p.Vec(forward), p.Vec(left)
		one, other := make([]quat.Number, 3), make([]quat.Number, 3)
		for i, l := range []chain.Limb{limb, mirrored} {
			s, err := chain.NewSolver(l)
			require.NoError(t, err)
			s.SolveFromRest([][]quat.Number{one, other}[i], []quat.Number{q, p.Rotation(q)}[i], quat.Number{Real: 1})
		}
		tolerance := component
		if field == chain.LeastRoll || field == chain.Balanced {
			tolerance = tableTolerance
		}
		for i := range one {
			requireRotation(t, p.Rotation(one[i]), other[i], tolerance, "field %d, segment %d", field, i)
		}
	}
}
