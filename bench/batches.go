package main

import (
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/kernel"
	"gonum.org/v1/gonum/spatial/r3"
)

// batches are our batch calls in both precisions and layouts, by assembly, where
// the processor has what it takes, and by the plain path.
func batches(d *data) ([]contender, error) {
	doubles, err := batchesOf[float64](d, float64s)
	if err != nil {
		return nil, err
	}
	singles, err := batchesOf[float32](d, float32s)
	return append(doubles, singles...), err
}

func batchesOf[F float32 | float64](d *data, p precision) ([]contender, error) {
	n := len(d.poses)
	solver, err := chain.NewSolver(chain.Limb{Axis: d.axis, Segments: segments})
	if err != nil {
		return nil, err
	}
	// The balanced field over a cone about the bone, for what looking it up costs.
	ranged, err := chain.NewSolver(chain.Limb{
		Axis: d.axis, Segments: segments, Field: chain.Balanced, Range: rangeAbout(d.axis),
	})
	if err != nil {
		return nil, err
	}
	aims, err := chain.NewAim[F](d.axis)
	if err != nil {
		return nil, err
	}
	shortest, balanced := chain.NewBatch[F](solver), chain.NewBatch[F](ranged)
	joints, targets := as[F](d.flatPoses()), as[F](d.flatTargets())
	planes := func(each int) ([]F, chain.Rotations[F]) {
		part := each * n
		s := make([]F, 4*part)
		return s, chain.Planes(s[:part], s[part:2*part], s[2*part:3*part], s[3*part:], n)
	}
	apart, apartJoints := planes(1)
	for i := range n {
		for k := range 4 {
			apart[k*n+i] = joints[4*i+k]
		}
	}
	none := chain.Rotations[F]{}
	var out []contender
	for _, path := range []struct {
		name string
		fast bool
	}{{"AVX2", true}, {"plain Go", false}} {
		if path.fast && !kernel.HasFast() {
			continue
		}
		add := func(t task, name string, answers func() []float64, pass func()) {
			out = append(out, contender{t, "pronate, " + name + ", " + path.name, p, func() {
				defer kernel.UseFast(kernel.UseFast(path.fast))
				pass()
			}, answers})
		}
		quads := make([]F, 4*segments*n)
		add(limb, "batch", func() []float64 { return widen(quads) }, func() {
			_, _ = shortest.Solve(chain.Quaternions(quads, segments), chain.Quaternions(joints, 1), none, n)
		})
		few := make([]F, 4*segments*n)
		add(limb, "batches of 64", func() []float64 { return widen(few) }, func() {
			for i := 0; i < n; i += 64 {
				some := min(64, n-i)
				_, _ = shortest.Solve(chain.Quaternions(few[4*segments*i:], segments), chain.Quaternions(joints[4*i:], 1), none, some)
			}
		})
		flat, dst := planes(segments)
		add(limb, "batch in planes", func() []float64 {
			var all []float64
			for i := range n {
				for s := range segments {
					for k := range 4 {
						all = append(all, float64(flat[k*segments*n+s*n+i]))
					}
				}
			}
			return all
		}, func() { _, _ = shortest.Solve(dst, apartJoints, none, n) })
		looked := make([]F, 4*segments*n)
		add(limb, "batch in the balanced field", nil, func() {
			_, _ = balanced.Solve(chain.Quaternions(looked, segments), chain.Quaternions(joints, 1), none, n)
		})
		aimed := make([]F, 4*n)
		add(aim, "batch", func() []float64 { return widen(aimed) }, func() {
			_, _ = aims.Solve(chain.Quaternions(aimed, 1), chain.Quaternions(joints, 1), chain.Vectors(targets), n)
		})
	}
	return out, nil
}

// rangeAbout is a hip's range for a bone along a direction.
func rangeAbout(down r3.Vec) chain.Range {
	forward := r3.Unit(r3.Cross(down, r3.Vec{Z: 1}))
	return chain.Hip(down, forward, r3.Cross(forward, down))
}

func as[F float32 | float64](s []float64) []F {
	out := make([]F, len(s))
	for i, x := range s {
		out[i] = F(x)
	}
	return out
}

func widen[F float32 | float64](s []F) []float64 {
	out := make([]float64, len(s))
	for i, x := range s {
		out[i] = float64(x)
	}
	return out
}
