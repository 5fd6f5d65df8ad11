package kernel

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bounds of what the kernel promises, beyond the rounding of the unit axis it
// is given: half the twist by its conditioning, 8 eps/condition (the twist
// package derives it for the same dot products), and a component of a segment by
// a share of that and the rounding of the sine and cosine.
const (
	eps            = 0x1p-52
	maxHalfError   = 8 * eps // over the condition
	componentError = 4e-15
)

// Against 256-bit arithmetic, by the law as the documentation states it.
func TestKernelAgainstBigFloats(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	shares := []float64{-1, -0.7, -1. / 3, 0}
	law := Law{Axis: axis, Own: shares, Swing: NewSwing(plainField(axis))}
	exactAxis := oracle.FromVec(axis)
	for _, q := range poses(500) {
		var own, far Twist
		law.Split(&own, &far, q, quat.Number{})
		exact := oracle.FromQuat(q).Unit()
		angle := oracle.TwistAngle(exact, exactAxis)
		half := angle.Mul(oracle.Float(0.5))
		off := half.Sub(oracle.Float(own.Half)).Abs().Float64()
		require.LessOrEqual(t, off, maxHalfError/own.Condition, "half twist of %v", q)

		got := make([]quat.Number, len(shares))
		law.Segments(got, &own, &far)
		for i, share := range shares {
			want := oracle.About(exactAxis, angle.Mul(oracle.Float(share)))
			off := oracle.FromQuat(got[i]).Off(want).Float64()
			require.LessOrEqual(t, off, componentError+maxHalfError/own.Condition*math.Abs(share), "segment %d of %v", i, q)
			require.InDelta(t, 1, quat.Abs(got[i]), componentError)
		}
	}
}
