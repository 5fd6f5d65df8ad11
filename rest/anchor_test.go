package rest

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Position and rotation come through a scale along the driver's own axes
// untouched, whatever the scale.
func anchorDropsScale(t *rapid.T) {
	f := genFrame().Draw(t, "f")
	positive := rapid.Float64Range(0.01, 100)
	s := r3.Vec{X: positive.Draw(t, "sx"), Y: positive.Draw(t, "sy"), Z: positive.Draw(t, "sz")}
	got, residual := Anchor(f.Mat4().Mul4(mgl64.Scale3D(s.X, s.Y, s.Z)))
	largest, least := max(s.X, s.Y, s.Z), min(s.X, s.Y, s.Z)
	middle := s.X + s.Y + s.Z - largest - least
	require.Equal(t, f.Position, got.Position)
	require.LessOrEqual(t, angleBetween(f.Unit(), got.Rotation), MaxNearestError*largest/(middle+least))
	requireVec(t, s, residual.Scale, 64*eps*largest)
	require.InDelta(t, 0, residual.Shear, 64*eps)
	require.True(t, residual.Defined)
	require.False(t, residual.Reflected)
}

func TestAnchorDropsScale(t *testing.T) { rapid.Check(t, anchorDropsScale) }
func FuzzAnchorDropsScale(f *testing.F) { f.Fuzz(rapid.MakeFuzz(anchorDropsScale)) }

func TestAnchorReports(t *testing.T) {
	sheared := mgl64.Translate3D(1, 2, 3).Mul4(mgl64.ShearX3D(0.5, 0))
	f, residual := Anchor(sheared)
	require.Equal(t, r3.Vec{X: 1, Y: 2, Z: 3}, f.Position)
	require.Greater(t, residual.Shear, 0.1)

	_, residual = Anchor(mgl64.Scale3D(-0.5, 1, 2))
	require.True(t, residual.Reflected)
	require.InDelta(t, -0.5, residual.Scale.X, 4*eps)

	f, residual = Anchor(mgl64.Mat4{12: 7})
	require.False(t, residual.Defined)
	require.Equal(t, Frame{Position: r3.Vec{X: 7}, Rotation: quat.Number{Real: 1}}, f)

	f, _ = Anchor(mgl64.Mat4{0: math.NaN()})
	require.True(t, math.IsNaN(f.Rotation.Real))
}
