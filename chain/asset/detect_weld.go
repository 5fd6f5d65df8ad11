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

// weld finds the pieces of a skin: vertices at one place are one vertex, and
// triangles join their corners. welded is each vertex' place in the forest, part
// after part.
func weld(parts []skinPart) (pieces *forest, welded []int) {
	cell := weldTolerance * extentOf(parts)
	if !(cell > 0) {
		cell = 1
	}
	pieces = &forest{}
	at := map[[3]float64]int{}
	for _, part := range parts {
		base := len(welded)
		for v := range len(part.positions) / 3 {
			var key [3]float64
			for k := range key {
				key[k] = math.Round(part.positions[3*v+k]/cell) + 0 // no negative zero
			}
			i, ok := at[key]
			if !ok {
				i = pieces.add()
				at[key] = i
			}
			welded = append(welded, i)
		}
		if part.triangles == nil {
			for _, i := range welded[base:] {
				pieces.join(welded[base], i)
			}
		}
		for i := 0; i+2 < len(part.triangles); i += 3 {
			a := welded[base+part.triangles[i]]
			pieces.join(a, welded[base+part.triangles[i+1]])
			pieces.join(a, welded[base+part.triangles[i+2]])
		}
	}
	return pieces, welded
}

// extentOf is the largest extent of all positions along an axis.
func extentOf(parts []skinPart) (extent float64) {
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
