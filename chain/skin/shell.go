package skin

import "gonum.org/v1/gonum/spatial/r3"

// shell is a surface that can be followed to any pose and is closed there:
// faces of a mesh or parts of them, and over each hole a fan of triangles from
// the centre of its rim.
type shell struct {
	places []place
	faces  [][3]int
	rims   []rim
}

// rim is a hole's edge.
type rim struct {
	lines   [][2]int  // in the direction of the faces they belong to
	members []int     // places, each once
	share   []float64 // half the length of a member's lines at rest, over the sum
}

// newShell closes a surface. Polygons are convex, of places, and may repeat
// one.
func newShell(list []place, polygons [][]int, positions []r3.Vec) shell {
	s := shell{places: list}
	for _, polygon := range polygons {
		for k := 2; k < len(polygon); k++ {
			a, b, c := polygon[0], polygon[k-1], polygon[k]
			if a != b && b != c && c != a {
				s.faces = append(s.faces, [3]int{a, b, c})
			}
		}
	}
	// An edge belongs to a rim if no face has it the other way round. As the
	// edge of a surface has no ends, as many lines lead to a place as away, and
	// a fan from anywhere closes them.
	open := map[[2]int]int{}
	for _, f := range s.faces {
		for e := range 3 {
			a, b := f[e], f[(e+1)%3]
			if open[[2]int{b, a}] > 0 {
				open[[2]int{b, a}]--
			} else {
				open[[2]int{a, b}]++
			}
		}
	}
	var lines [][2]int
	for _, f := range s.faces { // the faces' order, not the map's
		for e := range 3 {
			line := [2]int{f[e], f[(e+1)%3]}
			if open[line] > 0 {
				open[line]--
				lines = append(lines, line)
			}
		}
	}
	s.addRims(lines, positions)
	return s
}

func (s *shell) addRims(lines [][2]int, positions []r3.Vec) {
	connected := newGroups(len(s.places))
	for _, l := range lines {
		connected.join(l[0], l[1])
	}
	number := map[int]int{}
	for _, l := range lines {
		group := connected.of(l[0])
		k, ok := number[group]
		if !ok {
			k = len(s.rims)
			number[group] = k
			s.rims = append(s.rims, rim{})
		}
		s.rims[k].lines = append(s.rims[k].lines, l)
	}
	for k := range s.rims {
		s.rims[k].shareOut(s.places, positions)
	}
}

func (r *rim) shareOut(places []place, positions []r3.Vec) {
	number := map[int]int{}
	var whole float64
	for _, l := range r.lines {
		length := r3.Norm(r3.Sub(places[l[1]].at(positions), places[l[0]].at(positions)))
		whole += length
		for _, p := range l {
			if _, ok := number[p]; !ok {
				number[p] = len(r.members)
				r.members = append(r.members, p)
				r.share = append(r.share, 0)
			}
			r.share[number[p]] += length / 2
		}
	}
	for k := range r.share {
		if whole > 0 {
			r.share[k] /= whole
		}
	}
}

func (r *rim) centre(places []place, positions []r3.Vec) r3.Vec {
	first := places[r.members[0]].at(positions)
	var sum r3.Vec
	for k, p := range r.members {
		sum = r3.Add(sum, r3.Scale(r.share[k], r3.Sub(places[p].at(positions), first)))
	}
	return r3.Add(first, sum)
}

// triangles appends the closed surface's triangles in a pose.
func (s *shell) triangles(dst [][3]r3.Vec, positions []r3.Vec) [][3]r3.Vec {
	for _, f := range s.faces {
		dst = append(dst, [3]r3.Vec{s.places[f[0]].at(positions), s.places[f[1]].at(positions), s.places[f[2]].at(positions)})
	}
	for k := range s.rims {
		centre := s.rims[k].centre(s.places, positions)
		for _, l := range s.rims[k].lines {
			dst = append(dst, [3]r3.Vec{s.places[l[1]].at(positions), s.places[l[0]].at(positions), centre})
		}
	}
	return dst
}

// volume is the closed surface's volume in a pose: the sum of a·(b×c)/6 over
// its triangles (Gauss), taken about one of its places, for rounding's sake.
func (s *shell) volume(positions []r3.Vec) float64 {
	if len(s.faces) == 0 {
		return 0
	}
	origin := s.places[s.faces[0][0]].at(positions)
	var sum float64
	for _, f := range s.faces {
		a, b, c := s.places[f[0]].at(positions), s.places[f[1]].at(positions), s.places[f[2]].at(positions)
		sum += triple(r3.Sub(a, origin), r3.Sub(b, origin), r3.Sub(c, origin))
	}
	for k := range s.rims {
		centre := r3.Sub(s.rims[k].centre(s.places, positions), origin)
		for _, l := range s.rims[k].lines {
			a, b := s.places[l[0]].at(positions), s.places[l[1]].at(positions)
			sum += triple(r3.Sub(b, origin), r3.Sub(a, origin), centre)
		}
	}
	return sum / 6
}

func triple(a, b, c r3.Vec) float64 { return r3.Dot(a, r3.Cross(b, c)) }
