package main

import (
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
)

// ours are the ways this module has.
func ours(d *data) ([]contender, error) {
	solver, err := chain.NewSolver(chain.Limb{Axis: d.axis, Segments: segments})
	if err != nil {
		return nil, err
	}
	shares := twist.Linear(segments)
	return []contender{
		onQuats(limb, "pronate, one by one", d, func(dst []quat.Number) {
			for i, joint := range d.poses {
				solver.Solve(dst[i*segments:(i+1)*segments], joint, quat.Number{})
			}
		}),
		onQuats(limb, "pronate, its public parts", d, func(dst []quat.Number) {
			for i, joint := range d.poses {
				angle, _ := twist.Angle(joint, d.axis)
				for j, share := range shares {
					dst[i*segments+j] = twist.About(d.axis, (share-1)*angle)
				}
			}
		}),
		onQuats(aim, "pronate", d, func(dst []quat.Number) {
			for i, q := range d.poses {
				dst[i], _ = swing.Aim(q, d.axis, d.targets[i])
			}
		}),
	}, nil
}

// onQuats is a contender whose pass writes gonum's quaternions.
func onQuats(t task, name string, d *data, pass func(dst []quat.Number)) contender {
	dst := make([]quat.Number, rotations(t)*len(d.poses))
	return contender{t, name, float64s, func() { pass(dst) }, func() []float64 { return flatten(dst) }}
}

// rotations is how many of them a task gives for a limb.
func rotations(t task) int {
	if t == aim {
		return 1
	}
	return segments
}
