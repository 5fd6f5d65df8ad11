package oracle_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestMain(m *testing.M) {
	draw.FixSeed()
	m.Run()
}

// near256 is what a handful of operations may lose of 256 bits.
const near256 = 0x1p-240

// TestProduct is exact: the integers are those any two rows of small numbers
// give by Hamilton's rules of 1843.
func TestProduct(t *testing.T) {
	a := oracle.FromQuat(quat.Number{Real: 1, Imag: 2, Jmag: 3, Kmag: 4})
	b := oracle.FromQuat(quat.Number{Real: 5, Imag: 6, Jmag: 7, Kmag: 8})
	require.Equal(t, quat.Number{Real: -60, Imag: 12, Jmag: 30, Kmag: 24}, a.Mul(b).Float64())
	require.Equal(t, quat.Number{Real: -60, Imag: 20, Jmag: 14, Kmag: 32}, b.Mul(a).Float64())
	require.Equal(t, quat.Number{Real: 1, Imag: -2, Jmag: -3, Kmag: -4}, a.Conj().Float64())
	require.Equal(t, math.Sqrt(30), a.Norm().Float64())
}

// TestRotate turns (1,2,3) by 120 degrees about (1,1,1), which moves each
// coordinate on by one (Rodrigues 1840).
func TestRotate(t *testing.T) {
	third := oracle.Pi().Mul(oracle.Float(2)).Div(oracle.Float(3))
	q := oracle.About(oracle.FromVec(r3.Vec{X: 1, Y: 1, Z: 1}), third)
	got := q.Rotate(oracle.FromVec(r3.Vec{X: 1, Y: 2, Z: 3}))
	require.Equal(t, r3.Vec{X: 3, Y: 1, Z: 2}, got.Float64())
	// Any length of q is the same rotation.
	tripled := oracle.Quat{W: q.W.Mul(oracle.Float(3)), V: q.V.Scale(oracle.Float(3))}
	require.Equal(t, r3.Vec{X: 3, Y: 1, Z: 2}, tripled.Rotate(oracle.FromVec(r3.Vec{X: 1, Y: 2, Z: 3})).Float64())
}

// TestOffSign checks the comparison the other tests lean on.
func TestOffSign(t *testing.T) {
	q := oracle.FromQuat(quat.Number{Real: 0.5, Imag: 0.5, Jmag: 0.5, Kmag: 0.5})
	require.Equal(t, 0.0, q.Off(q.Neg()).Float64())
	for i, c := range []quat.Number{{Real: 1}, {Imag: 1}, {Jmag: 1}, {Kmag: 1}} {
		r := oracle.FromQuat(quat.Add(quat.Number{Real: 0.5, Imag: 0.5, Jmag: 0.5, Kmag: 0.5}, quat.Scale(0.25, c)))
		require.Equal(t, 0.25, q.Off(r).Float64(), "component %d", i)
	}
}

// TestDefinitions checks the oracle by what split and arc mean, rather than by
// their formulas.
func TestDefinitions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := oracle.FromQuat(draw.Rotation().Draw(t, "q"))
		a := oracle.FromVec(draw.Direction().Draw(t, "axis"))
		small := func(r oracle.Real, what string) {
			if r.Abs().Float64() > near256 {
				t.Fatalf("%s: %g", what, r.Float64())
			}
		}
		p := q.Unit().V.Dot(a.Unit())
		if q.Unit().W.Abs().Float64()+p.Abs().Float64() < 1e-3 {
			t.Skip("the bound below is for well-conditioned twists")
		}
		swing, twist, condition := oracle.Split(q, a)
		if swing.W.Sign() < 0 || twist.W.Sign() < 0 {
			t.Fatalf("signs: swing %g, twist %g", swing.W.Float64(), twist.W.Float64())
		}
		small(swing.Mul(twist).Off(q.Unit()), "the product is q")
		small(swing.V.Dot(a.Unit()), "the swing's axis is across")
		small(twist.V.Cross(a.Unit()).Norm(), "the twist's axis is along")
		small(swing.W.Sub(condition), "the condition is the swing's cosine")
		small(oracle.About(a, oracle.TwistAngle(q, a)).Off(twist), "the angle is the twist's")

		b := oracle.FromVec(draw.Direction().Draw(t, "to"))
		if a.Unit().Add(b.Unit()).Norm().Float64() < 1e-3 {
			t.Skip("opposite")
		}
		arc := oracle.Arc(a, b)
		small(arc.Rotate(a.Unit()).Sub(b.Unit()).Norm(), "the arc arrives")
		small(arc.V.Dot(a.Unit()), "the arc is the shortest")
		small(arc.Norm().Sub(oracle.Float(1)), "the arc is of unit length")
		// Half the angle of the arc from W and from the vectors.
		small(oracle.Atan2(arc.V.Norm(), arc.W).Mul(oracle.Float(2)).Sub(a.Unit().Angle(b.Unit())), "its angle is that between")
	})
}

func TestTwistAngleHalfTurn(t *testing.T) {
	z := oracle.FromVec(r3.Vec{Z: 1})
	require.Equal(t, math.Pi, oracle.TwistAngle(oracle.FromQuat(quat.Number{Kmag: 1}), z).Float64())
	require.Equal(t, math.Pi, oracle.TwistAngle(oracle.FromQuat(quat.Number{Kmag: -1}), z).Float64())
}
