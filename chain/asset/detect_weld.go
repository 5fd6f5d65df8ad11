package asset

import "math"

// weldTolerance is how far apart, of the extent of a skin's meshes, vertices may
// be and count as one: 0.02 mm for a person of 2 m. Seams repeat a position
// exactly; pieces that were exported one by one differ by rounding, some 1e-7.
const weldTolerance = 1e-5

// forest is a union-find structure (Galler and Fischer 1964, from memory).
type forest struct{ above []int }

func (f *forest) add() int {
	f.above = append(f.above, len(f.above))
	return len(f.above) - 1
}

func (f *forest) find(i int) int {
	for f.above[i] != i {
		f.above[i] = f.above[f.above[i]]
		i = f.above[i]
	}
	return i
}

func (f *forest) join(a, b int) {
	// Roots are the lowest of their piece: the result does not depend on the
	// order of joins.
	a, b = f.find(a), f.find(b)
	f.above[max(a, b)] = min(a, b)
}

// skinPlace is a place that a joint moves.
type skinPlace struct {
	at    [3]float64 // in cells of weldTolerance
	joint uint16     // of the skin
}

// weld finds the pieces of a skin. Triangles join their corners, and vertices at
// one place are one if some joint moves both: those that share no joint part as
// soon as one of them turns. The elements of the forest are the vertices, part
// after part.
func weld(parts []skinPart) *forest {
	cell := weldTolerance * skinExtent(parts)
	if !(cell > 0) {
		cell = 1
	}
	pieces := &forest{}
	at := map[skinPlace]int{}
	for _, part := range parts {
		base := len(pieces.above)
		for v := range len(part.positions) / 3 {
			vertex := pieces.add()
			var place skinPlace
			for k := range place.at {
				place.at[k] = math.Round(part.positions[3*v+k]/cell) + 0 // no negative zero
			}
			for _, set := range part.influences {
				for k, weight := range set[v].weights {
					if !(weight > 0) {
						continue
					}
					place.joint = set[v].joints[k]
					if other, ok := at[place]; ok {
						pieces.join(vertex, other)
					} else {
						at[place] = vertex
					}
				}
			}
			if part.triangles == nil {
				pieces.join(base, vertex)
			}
		}
		for i := 0; i+2 < len(part.triangles); i += 3 {
			a := base + part.triangles[i]
			pieces.join(a, base+part.triangles[i+1])
			pieces.join(a, base+part.triangles[i+2])
		}
	}
	return pieces
}

// skinExtent is the largest extent of all positions along an axis.
func skinExtent(parts []skinPart) (extent float64) {
	for k := range 3 {
		low, high := math.Inf(1), math.Inf(-1)
		for _, part := range parts {
			for i := k; i < len(part.positions); i += 3 {
				low, high = min(low, part.positions[i]), max(high, part.positions[i])
			}
		}
		extent = max(extent, high-low)
	}
	return extent
}
