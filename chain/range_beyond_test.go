package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// beyondStep is between the directions of an edge that are looked at: the true
// least angle is at most half of it smaller.
const beyondStep = 0.05 * degree

// beyondGrid lists the directions of a range's four edges.
func beyondGrid(r chain.Range) (edge []r3.Vec) {
	side := func(limits [2]float64, at func(float64) r3.Vec) {
		n := math.Ceil((limits[1]-limits[0])/beyondStep) + 1
		for i := 0.; i <= n; i++ {
			edge = append(edge, at(limits[0]+i/n*(limits[1]-limits[0])))
		}
	}
	for k := range 2 {
		side(r.Abduction, func(b float64) r3.Vec { return r.Direction(r.Flexion[k], b) })
		side(r.Flexion, func(f float64) r3.Vec { return r.Direction(f, r.Abduction[k]) })
	}
	return edge
}

// requireBeyond compares with the grid, for a direction at given angles.
func requireBeyond(t require.TestingT, r chain.Range, edge []r3.Vec, flexion, abduction float64) {
	const rounding = 1e-14
	d := r.Direction(flexion, abduction)
	got := r.Beyond(r3.Scale(3, d))
	turns := math.Ceil((r.Flexion[0] - flexion) / (2 * math.Pi))
	if flexion+turns*2*math.Pi <= r.Flexion[1] && abduction >= r.Abduction[0] && abduction <= r.Abduction[1] {
		require.InDelta(t, 0, got, rounding, "inside %v at %g, %g", r, flexion, abduction)
		return
	}
	least := 2.
	for _, e := range edge {
		least = min(least, r3.Norm(r3.Sub(d, e)))
	}
	angle := 2 * math.Atan2(least, math.Sqrt(max(4-least*least, 0)))
	// Near half a turn a chord tells an angle less well.
	slack := rounding / max(math.Cos(angle/2), 1e-7)
	require.LessOrEqual(t, got, angle+slack, "%v at %g, %g", r, flexion, abduction)
	require.GreaterOrEqual(t, got, angle-beyondStep/2-slack, "%v at %g, %g", r, flexion, abduction)
}

func TestBeyondIsTheLeastAngle(t *testing.T) {
	full := chain.Range{Flexion: [2]float64{-math.Pi, math.Pi}, Abduction: [2]float64{-0.3, 0.5}, Down: down, Forward: forward, Out: left}
	none := chain.Range{Down: down, Forward: forward, Out: left} // a single direction
	for _, r := range []chain.Range{chain.Hip(down, forward, left), chain.Shoulder(down, forward, left), chain.Wrist(down, forward, left), full, none} {
		mirrored := r
		mirrored.Out = r3.Scale(-1, r.Out)
		for _, r := range []chain.Range{r, mirrored} {
			edge := beyondGrid(r)
			for flexion := -175.; flexion <= 180; flexion += 12.5 {
				for abduction := -90.; abduction <= 90; abduction += 12 {
					requireBeyond(t, r, edge, flexion*degree, abduction*degree)
				}
			}
		}
	}
}

// The way straight back is neither by flexion nor by abduction alone: 60 degrees of
// flexion past a hip's most, at an abduction of 20, it is asin(cos 20 sin 60), 54.5
// degrees, square to the edge's meridian.
func TestBeyondSideways(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	cos, sin := math.Cos(20*degree), math.Sin(60*degree)
	require.InDelta(t, math.Atan2(cos*sin, math.Sqrt(1-cos*cos*sin*sin)), hip.Beyond(hip.Direction(180*degree, 20*degree)), 1e-14)
}

func TestBeyondOfAnyRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := func(name string, most float64) [2]float64 {
			a, b := rapid.Float64Range(-most, most).Draw(t, name), rapid.Float64Range(-most, most).Draw(t, name)
			return [2]float64{min(a, b), max(a, b)}
		}
		turn := rest.Frame{Rotation: draw.UnitRotation().Draw(t, "turn")}
		side := rapid.SampledFrom([]float64{1, -1}).Draw(t, "side")
		r := chain.Range{
			Flexion: limits("flexion", math.Pi), Abduction: limits("abduction", math.Pi/2),
			Down: turn.Direction(down), Forward: turn.Direction(forward), Out: turn.Direction(r3.Scale(side, left)),
		}
		edge := beyondGrid(r)
		for range 4 {
			requireBeyond(t, r, edge, rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "f"), rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "b"))
		}
	})
}
