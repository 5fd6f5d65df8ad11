package main

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/internal/oracle"
	"gonum.org/v1/gonum/num/quat"
)

// A task is what is solved for each limb.
type task string

const (
	// limb turns segment i about the axis by (k_i - 1) tau, where tau is the
	// joint's twist and k_i = i/(segments-1).
	limb task = "limb"
	// aim turns a rotation by the shortest arc that points its axis along a
	// target.
	aim task = "aim"
)

// exactAnswers holds what the tasks should give, in 256-bit arithmetic.
type exactAnswers struct {
	data    *data
	answers map[task]map[precision][]oracle.Quat // as far as they were asked for
}

func newExactAnswers(d *data) *exactAnswers {
	return &exactAnswers{d, map[task]map[precision][]oracle.Quat{limb: {}, aim: {}}}
}

func (e *exactAnswers) of(t task, p precision) []oracle.Quat {
	if _, ok := e.answers[t][p]; !ok {
		solve := exactLimbs
		if t == aim {
			solve = exactAims
		}
		e.answers[t][p] = solve(e.data.rounded(p))
	}
	return e.answers[t][p]
}

func exactLimbs(d *data) []oracle.Quat {
	axis := oracle.FromVec(d.axis)
	var out []oracle.Quat
	for _, q := range d.poses {
		angle := oracle.TwistAngle(oracle.FromQuat(q).Unit(), axis)
		for i := range segments {
			share := oracle.Float(float64(i - segments + 1)).Div(oracle.Float(segments - 1))
			out = append(out, oracle.About(axis, angle.Mul(share)))
		}
	}
	return out
}

func exactAims(d *data) []oracle.Quat {
	axis := oracle.FromVec(d.axis)
	var out []oracle.Quat
	for i, pose := range d.poses {
		q := oracle.FromQuat(pose).Unit()
		out = append(out, oracle.Arc(q.Rotate(axis), oracle.FromVec(d.targets[i])).Mul(q))
	}
	return out
}

// farthest is the largest error of a component, up to the sign of a rotation;
// got is x, y, z, w, rotation after rotation. It is infinite where got has a
// number that is not finite.
func (e *exactAnswers) farthest(t task, p precision, got []float64) (float64, error) {
	want := e.of(t, p)
	if len(got) != 4*len(want) {
		return 0, fmt.Errorf("%d numbers, expected %d", len(got), 4*len(want))
	}
	worst := 0.0
	for i, w := range want {
		x, y, z, r := got[4*i], got[4*i+1], got[4*i+2], got[4*i+3]
		if (x+y+z+r)*0 != 0 { // only NaN and Inf leave 0 behind
			return math.Inf(1), nil
		}
		q := quat.Number{Real: r, Imag: x, Jmag: y, Kmag: z}
		worst = max(worst, oracle.FromQuat(q).Off(w).Float64())
	}
	return worst, nil
}
