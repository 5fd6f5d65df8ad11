package demo

import "slices"

// body makes the whole skin at rest.
func body() *surface {
	s := &surface{}
	rows, opening := s.torso()
	// The trunk gives way a little where the legs and arms join it.
	for k, row := range rows {
		for i, v := range row {
			if v < 0 {
				continue
			}
			if k < 3 {
				s.loose[v] = 0.8
			}
			if side := min(i, torsoColumns-i); k >= opening.k0-2 && k <= opening.k1+1 &&
				side >= opening.c0-2 && side <= opening.c1+2 {
				s.loose[v] = 0.5
			}
		}
	}
	s.arm(opening.rim(rows))
	s.mirrored = true
	s.arm(opening.rim(mirroredRows(rows)))
	s.mirrored = false
	s.legs(rows[0])
	s.head(rows[len(rows)-1])
	s.raise(bodyBumps)
	s.fair(12)
	return s
}

// mirroredRows renumbers loops that begin in the middle so that the right side
// takes the left side's columns.
func mirroredRows(rows [][]int) [][]int {
	out := make([][]int, len(rows))
	for k, row := range rows {
		out[k] = slices.Clone(row)
		slices.Reverse(out[k][1:])
	}
	return out
}
