package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// nearest is the least distance from a point to the triangles; infinite where
// there are none.
func (t *tree) nearest(p r3.Vec) float64 {
	found := t.search(hit{square: math.Inf(1)}, 0, t.order, p)
	if math.IsInf(found.square, 1) {
		return found.square
	}
	return r3.Norm(r3.Sub(p, found.at))
}

// hit is the nearest place found yet and the square of its distance.
type hit struct {
	at     r3.Vec
	square float64
}

// search looks for what is nearer in a node, in its nearer half first.
func (t *tree) search(found hit, node int, run []int, p r3.Vec) hit {
	if t.isLeaf(node) {
		for _, i := range run {
			c := &t.triangles[i]
			at := nearestOn(c[0], c[1], c[2], p)
			if square := r3.Norm2(r3.Sub(p, at)); square < found.square {
				found = hit{at, square}
			}
		}
		return found
	}
	half := len(run) / 2
	near, far := 2*node+1, 2*node+2
	nearRun, farRun := run[:half], run[half:]
	nearSquare, farSquare := outside(&t.boxes[near], p), outside(&t.boxes[far], p)
	if farSquare < nearSquare {
		near, far, nearRun, farRun, nearSquare, farSquare = far, near, farRun, nearRun, farSquare, nearSquare
	}
	if nearSquare < found.square {
		found = t.search(found, near, nearRun, p)
	}
	if farSquare < found.square {
		found = t.search(found, far, farRun, p)
	}
	return found
}

// outside is the square of a point's distance from a box, 0 inside.
func outside(box *r3.Box, p r3.Vec) float64 {
	x := max(box.Min.X-p.X, 0, p.X-box.Max.X)
	y := max(box.Min.Y-p.Y, 0, p.Y-box.Max.Y)
	z := max(box.Min.Z-p.Z, 0, p.Z-box.Max.Z)
	return x*x + y*y + z*z
}
