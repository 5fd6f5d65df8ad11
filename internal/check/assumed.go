package check

import (
	"math"
	"slices"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"gonum.org/v1/gonum/spatial/r3"
)

// rangeOf is the range of motion that a limb is taken to have.
func rangeOf(l asset.LimbInfo) Range {
	if l.Range.IsZero() {
		return Range{Name: asset.RangeNone}
	}
	out := Range{Name: l.Spec.Range.Name}
	if out.Name == "" {
		// Left out, it goes by the limb's kind; given as limits, it has no name.
		out.Name = "limits"
		if l.Spec.Range == (asset.Range{}) && l.RangeSpec.Frame != (asset.RangeFrame{}) {
			out.Name = asset.RangeClips
		}
		if l.Spec.Range == (asset.Range{}) {
			for name, known := range map[string]chain.Range{
				asset.RangeHip: chain.Hip(r3.Vec{}, r3.Vec{}, r3.Vec{}), asset.RangeShoulder: chain.Shoulder(r3.Vec{}, r3.Vec{}, r3.Vec{}),
			} {
				if l.Range.Flexion == known.Flexion && l.Range.Abduction == known.Abduction {
					out.Name = name
				}
			}
		}
	}
	for i := range 2 {
		out.Flexion[i] = math.Round(l.Range.Flexion[i]*180/math.Pi*1e6)/1e6 + 0
		out.Abduction[i] = math.Round(l.Range.Abduction[i]*180/math.Pi*1e6)/1e6 + 0
	}
	return out
}

// longestSide is that of the box round some points.
func longestSide(at []r3.Vec) float64 {
	if len(at) == 0 {
		return 0
	}
	low, high := at[0], at[0]
	for _, p := range at {
		low = r3.Vec{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
		high = r3.Vec{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
	}
	size := r3.Sub(high, low)
	return max(size.X, size.Y, size.Z)
}

// around marks a node, all nodes below it and the one that it hangs on.
func around(f *asset.File, node int) []bool {
	out := make([]bool, len(f.Doc.Nodes))
	out[node] = true
	for list := []int{node}; len(list) > 0; list = list[1:] {
		for _, child := range f.Doc.Nodes[list[0]].Children {
			out[child] = true
			list = append(list, child)
		}
	}
	for i, n := range f.Doc.Nodes {
		if slices.Contains(n.Children, node) {
			out[i] = true
		}
	}
	return out
}
