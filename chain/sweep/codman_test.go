package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// codman solves a joint and returns its root and its end segment from rest.
func codman(s *chain.Solver, joint quat.Number) (root, end quat.Number, r chain.Result) {
	dst := make([]quat.Number, s.Segments())
	r = s.SolveFromRest(dst, joint, quat.Number{Real: 1})
	return dst[0], dst[len(dst)-1], r
}

// Codman's paradox (Politti, Goroso, Valentinuzzi and Bravo 1998): lift the arm
// by theta, carry it round by dphi, lower it. It hangs as before, and has turned
// by dphi about itself, for every theta; in every field the root of the arm has
// not turned, and the end by all of it.
func TestCodman(t *testing.T) {
	everyField(t, func(t *testing.T, _ sweep.Motion, solver *chain.Solver) {
		across, _ := swing.Perpendicular(down)
		for _, theta := range []float64{10, 60, 90, 135, 180} {
			for _, dphi := range []float64{30, 90, -120} {
				lift, carry := twist.About(across, theta*degree), twist.About(down, dphi*degree)
				lower := twist.About(rotate(carry, across), -theta*degree)
				net := quat.Mul(lower, quat.Mul(carry, lift))
				root, end, r := codman(solver, net)
				require.InDelta(t, dphi*degree, r.Twist, component)
				requireRotation(t, quat.Number{Real: 1}, root, component)
				requireRotation(t, carry, end, component)
			}
		}
	})
}

// Three successive turns of 90 degrees about the three axes are one of 90
// degrees, the middle one (Politti et al. 1998).
func TestCodmanQuarterTurns(t *testing.T) {
	everyField(t, func(t *testing.T, _ sweep.Motion, solver *chain.Solver) {
		net := quat.Mul(twist.About(r3.Vec{Z: 1}, math.Pi/2), quat.Mul(twist.About(r3.Vec{Y: 1}, math.Pi/2), twist.About(r3.Vec{X: 1}, math.Pi/2)))
		root, end, r := codman(solver, net)
		require.InDelta(t, -math.Pi/2, r.Twist, component) // +Y is against the hanging arm
		requireRotation(t, quat.Number{Real: 1}, root, component)
		requireRotation(t, twist.About(r3.Vec{Y: 1}, math.Pi/2), end, component)
	})
}

// Lee et al. 2014: 180 degrees of elevation forwards and back down sideways
// reverses the palm. With the arm along Z, R_y(-pi) R_x(pi) = (0, 0, 0, 1).
func TestPalmReversed(t *testing.T) {
	axis := r3.Vec{Z: 1}
	net := quat.Mul(twist.About(r3.Vec{Y: 1}, -math.Pi), twist.About(r3.Vec{X: 1}, math.Pi))
	for _, j := range joints {
		m := j.of(axis, r3.Vec{X: 1}, r3.Vec{Y: 1})
		for _, field := range fields {
			root, end, r := codman(solverOf(t, m, field), net)
			requireRotation(t, quat.Number{Kmag: 1}, end, component)
			requireRotation(t, quat.Number{Real: 1}, root, component)
			requireAngle(t, math.Pi, r.Twist, component)
		}
	}
}

// Yoon 2014: swept sideways by dphi at the angle theta from the axis, without
// rolling, an arm turns by dphi (1 - cos theta) about itself against the field
// of shortest arcs; round a whole circle that is the enclosed cap, 2 pi (1 - cos
// theta), in every field that is smooth inside. n arcs for the circle's err by
// O(1/n^2), the square of a step's width.
func TestSidewaysSweep(t *testing.T) {
	const n = 4096 // steps of a whole circle
	const tolerance = 4 * math.Pi * math.Pi / (n * n) * math.Pi
	across, _ := swing.Perpendicular(down)
	everyField(t, func(t *testing.T, _ sweep.Motion, solver *chain.Solver) {
		w := swingsOf(t, solver)
		isPlain := solver.Centre() == solver.Axis()
		for _, theta := range []float64{30 * degree, 60 * degree, 75 * degree} {
			start, ok := w.At(polar(down, across, theta, 0))
			require.True(t, ok)
			joint := start
			var twists twist.Unwrapper
			twists.Next(0)
			for i := range n {
				from := polar(down, across, theta, 2*math.Pi*float64(i)/n)
				to := polar(down, across, theta, 2*math.Pi*float64(i+1)/n)
				arc, _ := swing.Arc(from, to)
				joint = quat.Mul(arc, joint)
				_, _, r := codman(solver, joint)
				turned := twists.Next(r.Twist)
				if isPlain {
					dphi := 2 * math.Pi * float64(i+1) / n
					require.InDelta(t, dphi*(1-math.Cos(theta)), turned, tolerance)
				}
				if i == n-1 {
					require.InDelta(t, 2*math.Pi*(1-math.Cos(theta)), turned, tolerance)
				}
			}
		}
	})
}
