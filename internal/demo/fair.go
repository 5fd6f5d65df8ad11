package demo

import "gonum.org/v1/gonum/spatial/r3"

// neighbours lists for every vertex those that share an edge with it, each once,
// in order of first meeting.
func (s *surface) neighbours() [][]int {
	out := make([][]int, len(s.at))
	for _, f := range s.faces {
		for i, v := range f {
			// On a closed surface each edge runs once each way.
			out[v] = append(out[v], f[(i+1)%len(f)])
		}
	}
	return out
}

// fair relaxes the loose vertices towards their neighbours' mean, and their
// weights likewise. Near neighbours count for more, by the inverse of the
// distance (K. Fujiwara 1995, from memory), so that rows set close stay close.
func (s *surface) fair(rounds int) {
	near := s.neighbours()
	pull := make([][]float64, len(near))
	for v := range near {
		if s.loose[v] == 0 {
			continue
		}
		var sum float64
		for _, n := range near[v] {
			k := 1 / r3.Norm(r3.Sub(s.at[n], s.at[v]))
			pull[v] = append(pull[v], k)
			sum += k
		}
		for i := range pull[v] {
			pull[v][i] *= 0.5 * s.loose[v] / sum
		}
	}
	at, weight := make([]r3.Vec, len(s.at)), make([]weights, len(s.at))
	for range rounds {
		copy(at, s.at)
		copy(weight, s.weight)
		for v, ks := range pull {
			for i, k := range ks {
				n := near[v][i]
				at[v] = r3.Add(at[v], r3.Scale(k, r3.Sub(s.at[n], s.at[v])))
				for j := range weight[v] {
					weight[v][j] += k * (s.weight[n][j] - s.weight[v][j])
				}
			}
		}
		s.at, at = at, s.at
		s.weight, weight = weight, s.weight
	}
}

// normals are angle-weighted means of the faces around each vertex (G. Thürmer
// and C. Wüthrich 1998, from memory): independent of how quads are split.
func (s *surface) normals(triangles [][3]int) []r3.Vec {
	out := make([]r3.Vec, len(s.at))
	for _, t := range triangles {
		n := r3.Unit(r3.Cross(r3.Sub(s.at[t[1]], s.at[t[0]]), r3.Sub(s.at[t[2]], s.at[t[0]])))
		for i := range t {
			a := r3.Sub(s.at[t[(i+1)%3]], s.at[t[i]])
			b := r3.Sub(s.at[t[(i+2)%3]], s.at[t[i]])
			out[t[i]] = r3.Add(out[t[i]], r3.Scale(angle(a, b), n))
		}
	}
	for i := range out {
		out[i] = r3.Unit(out[i])
	}
	return out
}
