package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot"
)

func TestFigure(t *testing.T) {
	require.Equal(t, "0.0", Figure(-0.04, 1))
	require.Equal(t, "0", Figure(math.Copysign(0, -1), 0))
	require.Equal(t, "-0.1", Figure(-0.06, 1))
	require.Equal(t, "-30", Figure(-30, 0))
	require.Equal(t, "–", Figure(math.NaN(), 1))
	require.Equal(t, "–", part(math.Inf(1)))
	require.Equal(t, "97.5 %", part(0.975))
}

// Distances are told in what the character's size is good for, of what the camera
// looks at, and the moment where the caption has not.
func TestShotNote(t *testing.T) {
	squeezed, areas, among := []float64{0.3, 0.1, 0.9}, []float64{0.01, 0.03, 5}, []bool{true, true, false}
	s := Shot{Clip: "step", Time: 1.5}
	require.Equal(t, "step, 1.50 s\nwithin 38 cm of the joint: 100 cm² compressed by more than 20 %", s.note(0.38, squeezed, areas, among))
	s.Told, s.Toward = true, "shin"
	require.Equal(t, "within 38 cm of the limb's middle: 100 cm² compressed by more than 20 %", s.note(0.38, squeezed, areas, among))
	s.Length = 0.4
	require.Equal(t, "within 0.95 limb lengths of the limb's middle: 25.0 % of the skin compressed by more than 20 %", s.note(0.38, squeezed, areas, among))
}

// Skin beyond what is counted is not painted, nor skin of other limbs counted.
func TestNearAndFade(t *testing.T) {
	require.InDeltaSlice(t, []float64{1, 1, 0.5, 0, 0}, []float64{fade(0), fade(0.9), fade(0.95), fade(1), fade(3)}, 1e-12)
	at := []r3.Vec{{}, {X: 1}, {Y: 1}, {X: 3}}
	triangles := [][3]int{{0, 1, 2}, {0, 1, 3}}
	require.Equal(t, []bool{true, false}, near(at, triangles, r3.Vec{}, 2, nil))
	require.Equal(t, []bool{false, false}, near(at, triangles, r3.Vec{}, 2, []float64{1, 1, 0.4, 1}))
}

func TestSameScale(t *testing.T) {
	a, b := plot.New(), plot.New()
	a.Y.Min, a.Y.Max, b.Y.Min, b.Y.Max = 70, 98, 80, 99
	sameScale([]*plot.Plot{a, b}, 100)
	require.Equal(t, []float64{70, 100, 70, 100}, []float64{a.Y.Min, a.Y.Max, b.Y.Min, b.Y.Max})
	ticks := degreeTicks.Ticks(0, 90-1e-12)
	require.Equal(t, "90", ticks[len(ticks)-1].Label)
}
