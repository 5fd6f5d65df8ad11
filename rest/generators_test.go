package rest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

const eps = 0x1p-52

// genCoordinate draws plain numbers and the edges between which they lie.
func genCoordinate() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-2, 2),
		rapid.SampledFrom([]float64{0, 1, -1, 0.5, 1e-9, -1e-9, 1e3}),
	)
}

func genVec() *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		g := genCoordinate()
		return r3.Vec{X: g.Draw(t, "x"), Y: g.Draw(t, "y"), Z: g.Draw(t, "z")}
	})
}

// genRotation draws unit quaternions: plain ones, half turns, quarter turns and
// rotations close to the identity, in either sign.
func genRotation() *rapid.Generator[quat.Number] {
	return rapid.Custom(func(t *rapid.T) quat.Number {
		g := genCoordinate()
		q := quat.Number{Real: g.Draw(t, "w"), Imag: g.Draw(t, "x"), Jmag: g.Draw(t, "y"), Kmag: g.Draw(t, "z")}
		if quat.Abs(q) == 0 {
			q.Real = -1
		}
		return unit(q)
	})
}

func genFrame() *rapid.Generator[Frame] {
	return rapid.Custom(func(t *rapid.T) Frame {
		f := Frame{Position: genVec().Draw(t, "position")}
		if rapid.IntRange(0, 9).Draw(t, "zero rotation") > 0 {
			f.Rotation = genRotation().Draw(t, "rotation")
		}
		return f
	})
}

// genMat3 draws finite matrices of every kind: plain, reflecting, of rank two,
// one and zero, rotations times scales, and all of them at any magnitude.
func genMat3() *rapid.Generator[mgl64.Mat3] {
	return rapid.Custom(func(t *rapid.T) mgl64.Mat3 {
		var m mgl64.Mat3
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			for i := range m {
				m[i] = genCoordinate().Draw(t, "entry")
			}
		case 1: // rank one
			a, b := genVec().Draw(t, "a"), genVec().Draw(t, "b")
			m = outer(a, b)
		case 2: // rank two
			m = outer(genVec().Draw(t, "a"), genVec().Draw(t, "b"))
			m = m.Add(outer(genVec().Draw(t, "c"), genVec().Draw(t, "d")))
		case 3: // stretched along its axes and turned
			s := genVec().Draw(t, "scale")
			m = mat3(genRotation().Draw(t, "rotation")).Mul3(mgl64.Diag3(mgl64.Vec3{s.X, s.Y, s.Z}))
		}
		return m.Mul(rapid.SampledFrom([]float64{1, 1, 1, -1, 1e150, 1e-150, 0x1p-1060}).Draw(t, "magnitude"))
	})
}

func outer(a, b r3.Vec) mgl64.Mat3 {
	return mgl64.Mat3{
		a.X * b.X, a.Y * b.X, a.Z * b.X,
		a.X * b.Y, a.Y * b.Y, a.Z * b.Y,
		a.X * b.Z, a.Y * b.Z, a.Z * b.Z,
	}
}

// randomRotation is uniform over all rotations: four normal deviates on the
// unit sphere (Marsaglia 1972, Muller 1959; from memory).
func randomRotation(r *rand.Rand) quat.Number {
	return unit(quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()})
}

// turn is the rotation by angle about a unit axis.
func turn(axis r3.Vec, angle float64) quat.Number {
	sin, cos := math.Sincos(angle / 2)
	return quat.Number{Real: cos, Imag: sin * axis.X, Jmag: sin * axis.Y, Kmag: sin * axis.Z}
}

// angleBetween is the angle of the rotation from a to b, 0 to pi.
func angleBetween(a, b quat.Number) float64 {
	d := quat.Mul(quat.Conj(a), b)
	return 2 * math.Atan2(math.Sqrt(d.Imag*d.Imag+d.Jmag*d.Jmag+d.Kmag*d.Kmag), math.Abs(d.Real))
}

func TestAngleBetween(t *testing.T) {
	x := r3.Vec{X: 1}
	require.InDelta(t, 0.25, angleBetween(turn(x, 1), turn(x, 1.25)), 4*eps)
	require.InDelta(t, 1e-9, angleBetween(turn(x, 0), turn(x, 1e-9)), 1e-24)
	require.InDelta(t, 0, angleBetween(turn(x, 1), quat.Scale(-1, turn(x, 1))), 4*eps, "q and -q are one rotation")
	require.InDelta(t, math.Pi, angleBetween(turn(x, 0), turn(r3.Vec{Y: 1}, math.Pi)), 4*eps)
}

func requireVec(t require.TestingT, want, got r3.Vec, tolerance float64, context ...any) {
	require.InDelta(t, want.X, got.X, tolerance, context...)
	require.InDelta(t, want.Y, got.Y, tolerance, context...)
	require.InDelta(t, want.Z, got.Z, tolerance, context...)
}

func requireQuat(t require.TestingT, want, got quat.Number, tolerance float64, context ...any) {
	require.InDelta(t, want.Real, got.Real, tolerance, context...)
	require.InDelta(t, want.Imag, got.Imag, tolerance, context...)
	require.InDelta(t, want.Jmag, got.Jmag, tolerance, context...)
	require.InDelta(t, want.Kmag, got.Kmag, tolerance, context...)
}
