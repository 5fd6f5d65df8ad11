package report_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var raisedLimbs = []demo.Raised{demo.RaisedThigh, demo.RaisedArm}

// rolls splits Wren with one field and measures her raised limbs.
func rolls(t *testing.T, field string) (out []report.Roll, e *asset.Evaluator) {
	wren, err := demo.Wren()
	require.NoError(t, err)
	source, err := asset.Decode("wren.glb", wren, nil)
	require.NoError(t, err)
	limbs, err := asset.Detect(source)
	require.NoError(t, err)
	for i := range limbs.Limbs {
		if limbs.Limbs[i].Twist == asset.TwistOwn {
			limbs.Limbs[i].Field = field
		}
	}
	split, _, err := asset.Split(source, asset.Options{Limbs: limbs.Limbs, AsAsked: true})
	require.NoError(t, err)
	e, err = split.Evaluator()
	require.NoError(t, err)
	for _, raised := range raisedLimbs {
		roll, err := report.MeasureRoll(e, raised.Clip, raised.Nodes)
		require.NoError(t, err)
		out = append(out, roll)
	}
	return out, e
}

func most(r report.Roll) float64 { return mostOf(r.Angles) }

func mostOf(angles []float64) (most float64) {
	for _, angle := range angles {
		most = max(most, math.Abs(angle))
	}
	return most
}

// Raised high and swayed, the shortest arc rolls at least twice as far as the fields
// that roll little, but twists nothing at the root; balanced stays within 15 degrees of
// it and rolls less. All come back to where they began.
func TestRollOfWren(t *testing.T) {
	plain, _ := rolls(t, asset.FieldShortest)
	balanced, _ := rolls(t, asset.FieldBalanced)
	const bake = 0.2 * math.Pi / 180 // keys within 0.05 degrees of the solver's, of four joints
	for i := range plain {
		require.Less(t, mostOf(plain[i].Twists), bake)
		require.Less(t, mostOf(balanced[i].Twists), 15*math.Pi/180)
		require.Less(t, most(balanced[i]), 0.95*most(plain[i]))
	}
	for _, field := range []string{asset.FieldCentred, asset.FieldLeastRoll} {
		got, _ := rolls(t, field)
		for i := range got {
			require.Less(t, most(got[i]), 0.5*most(plain[i]), field)
			require.Greater(t, mostOf(got[i].Twists), 20*math.Pi/180, field)
			require.InDelta(t, 0, got[i].Angles[len(got[i].Angles)-1], bake)
		}
	}
}

// What a viewer sees of the plain field is minus the integral of (1 - cos theta)
// d phi over the bone's path, theta being its angle from rest and phi that
// round rest (the roll of the shortest arc, tan(theta/2) times the sideways arc
// sin(theta) d phi), to what keys within 0.05 degrees at either end allow.
func TestRollOfThePlainField(t *testing.T) {
	got, e := rolls(t, asset.FieldShortest)
	for i, raised := range raisedLimbs {
		anchor, joint, end := e.Node(raised.Nodes.Anchor), e.Node(raised.Nodes.Joint), e.Node(raised.Nodes.End)
		along := func(clip int, time float64) r3.Vec {
			world := e.World(clip, time)
			frame, _ := rest.Anchor(world[anchor])
			at := func(node int) r3.Vec { return rest.VecFromMgl64(world[node].Col(3).Vec3()) }
			return r3.Unit(frame.Inverse().Direction(r3.Sub(at(end), at(joint))))
		}
		clip := 0
		for k, name := range e.Clips() {
			if name == raised.Clip {
				clip = k
			}
		}
		pole := along(-1, 0)
		u := r3.Unit(r3.Cross(pole, r3.Vec{X: 0.3, Y: 0.2, Z: 1}))
		v := r3.Cross(pole, u)
		first, _ := e.Span(clip)
		want, phi, cos := 0., 0., 0.
		for k, time := range got[i].Times {
			d := along(clip, first+time)
			nowPhi, nowCos := math.Atan2(r3.Dot(d, v), r3.Dot(d, u)), r3.Dot(d, pole)
			if k > 0 {
				want -= (1 - (cos+nowCos)/2) * math.Remainder(nowPhi-phi, 2*math.Pi)
			}
			phi, cos = nowPhi, nowCos
			require.InDelta(t, want, got[i].Angles[k], 0.15*math.Pi/180, "%s at %v s", raised.Clip, time)
		}
	}
}

func TestPlots(t *testing.T) {
	curve := report.RollCurve{Name: "best", Roll: report.Roll{Times: []float64{0, 1}, Angles: []float64{0, 0.5}, Twists: []float64{0, 0.1}}}
	for _, theme := range []report.Theme{report.Light, report.Dark} {
		plots, err := report.PlotRolls("a limb", []report.RollCurve{curve}, theme)
		require.NoError(t, err)
		svg, err := plots.SVG()
		require.NoError(t, err)
		for _, text := range []string{"a limb: roll", "a limb: twist at the root", "roll, degrees", "best"} {
			require.Contains(t, string(svg), text)
		}
		_, err = plots.PNG()
		require.NoError(t, err)
	}
	for _, of := range []func(*report.Roll) *[]float64{
		func(r *report.Roll) *[]float64 { return &r.Angles },
		func(r *report.Roll) *[]float64 { return &r.Twists },
	} {
		nan := curve
		*of(&nan.Roll) = []float64{0, math.NaN()}
		_, err := report.PlotRolls("a limb", []report.RollCurve{nan}, report.Light)
		require.Error(t, err)
	}
}
