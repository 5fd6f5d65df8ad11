package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestStripes(t *testing.T) {
	white := Colour{1, 1, 1}
	s := stripes{to: r3.Vec{Y: -0.4}, within: func(p r3.Vec) float64 {
		if p.X < 0 {
			return 0
		}
		return 1
	}}
	pattern := s.pattern()
	// Along the bone a stripe keeps its tone between rings, and rings are darkest.
	at := r3.Vec{X: 0.05, Y: -ringsApart / 2, Z: 0.01}
	along := r3.Add(at, r3.Vec{Y: -ringsApart})
	same := func(want, got Colour) { require.InDeltaSlice(t, want[:], got[:], 1e-12) } // colours differ by 0.1 and more
	same(pattern(at, white), pattern(along, white))
	same(white.scale(ringShade), pattern(r3.Vec{X: 0.05, Y: -ringsApart}, white))
	// Round the bone the tone changes stripeCount times.
	changes := 0
	before := Colour{}
	around := stripes{to: s.to, within: func(r3.Vec) float64 { return 1 }}.pattern()
	const steps = 3600
	for i := range steps + 1 {
		now := around(rotateY(r3.Vec{X: 0.05, Y: -ringsApart / 2}, (float64(i)+0.5)/steps*2*math.Pi), white)
		if i > 0 && math.Abs(now[0]-before[0]) > 0.01 {
			changes++
		}
		before = now
	}
	require.Equal(t, stripeCount, changes)
	// Skin of other limbs is as it was.
	same(white, pattern(r3.Vec{X: -0.05, Y: -ringsApart}, white))
}

func rotateY(v r3.Vec, angle float64) r3.Vec {
	return r3.NewRotation(angle, r3.Vec{Y: 1}).Rotate(v)
}

// A pattern goes by where the skin is at rest, and moves with it.
func TestPatternMovesWithTheSkin(t *testing.T) {
	mesh := square(0, 0.9, red)
	mesh.Rest = make([]r3.Vec, len(mesh.Positions))
	for i, p := range mesh.Positions {
		mesh.Rest[i] = r3.Add(p, r3.Vec{X: 10})
	}
	mesh.Pattern = func(rest r3.Vec, colour Colour) Colour {
		if rest.X > 10 {
			return blue
		}
		return colour
	}
	out := Render(mesh, front, 100, 100, Light)
	require.True(t, reddish(out, 35, 50))
	right := out.RGBAAt(65, 50)
	require.Greater(t, right.B, right.R)
}
