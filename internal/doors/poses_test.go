package doors

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

const degree = math.Pi / 180

// posePlan is a pose in the words of the limb: where its bone points, between the
// limits of its range, and how far it is twisted.
type posePlan struct {
	name               string
	rest               bool    // the bone points where it does at rest
	flexion, abduction float64 // from 0, the least, to 1, the greatest
	twist              float64 // degrees
	tipBend, tipTwist  float64 // degrees, of the tip
	length             float64 // of the quaternions, with their sign; 0: 1
}

var posePlans = []posePlan{
	{name: "rest", rest: true},
	{name: "twisted", rest: true, twist: 100, tipTwist: 75},
	{name: "twisted back, almost round", rest: true, twist: -165, tipTwist: -160},
	{name: "in the middle", flexion: 0.5, abduction: 0.5, tipBend: 20, tipTwist: 20},
	{name: "in the middle, twisted", flexion: 0.55, abduction: 0.45, twist: 140, tipBend: -30, tipTwist: 130},
	{name: "back and in", flexion: 0.03, abduction: 0.03, twist: -40, tipBend: 60, tipTwist: -40},
	{name: "back and out", flexion: 0.03, abduction: 0.97, twist: 70, tipBend: 60, tipTwist: 70},
	{name: "ahead and in", flexion: 0.97, abduction: 0.03, twist: 25, tipBend: -60, tipTwist: 25},
	{name: "ahead and out", flexion: 0.97, abduction: 0.97, twist: -110, tipBend: -75, tipTwist: -110},
	{name: "beyond the range", flexion: 1.06, abduction: 0.6, twist: 30, tipBend: 80, tipTwist: 95},
	{name: "a long quaternion", flexion: 0.8, abduction: 0.3, twist: 50, tipBend: 25, tipTwist: -60, length: 3.5},
	{name: "a short one, of the other sign", flexion: 0.3, abduction: 0.75, twist: -80, tipBend: -25, tipTwist: 105, length: -0.02},
}

// posesOf makes the poses of a limb.
func posesOf(t testing.TB, info asset.LimbInfo) (out []pose) {
	t.Helper()
	solver, err := chain.NewSolver(info.Solver)
	require.NoError(t, err)
	axis, motion := info.TurnAxis, info.Range
	x, y := info.Field.Frame()
	if motion.IsZero() { // as far as a hip goes, from where the bone is at rest
		motion = chain.Hip(axis, x, y)
	}
	_, tip := solver.Shares()
	for _, p := range posePlans {
		to := axis
		if !p.rest {
			to = motion.Direction(between(motion.Flexion, p.flexion), between(motion.Abduction, p.abduction))
		}
		q, ok := swing.Arc(axis, to)
		require.True(t, ok, p.name)
		made := pose{Name: p.name, Joint: p.scaled(quat.Mul(q, twist.About(axis, p.twist*degree)))}
		if tip != nil {
			hand := p.scaled(quat.Mul(twist.About(x, p.tipBend*degree), twist.About(axis, p.tipTwist*degree)))
			made.Tip = &hand
		}
		out = append(out, made)
	}
	return out
}

func between(limits [2]float64, at float64) float64 { return limits[0] + at*(limits[1]-limits[0]) }

func (p posePlan) scaled(q quat.Number) bits64 {
	if p.length != 0 {
		q = quat.Scale(p.length, q)
	}
	return bitsOf(q)
}
