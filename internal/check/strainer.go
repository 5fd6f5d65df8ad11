package check

import (
	"sync"

	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// strainer measures the strain of all skin. Several goroutines may use it.
type strainer struct {
	rest      []r3.Vec
	triangles [][3]int
	rooms     sync.Pool
}

// room is what one goroutine measures in.
type room struct {
	mean    *skin.StrainMean
	strains []skin.Strain
}

func newStrainer(m skin.Mesh) *strainer {
	s := &strainer{rest: m.Positions, triangles: m.Triangles}
	s.rooms.New = func() any { return &room{mean: skin.NewStrainMean(s.rest, s.triangles)} }
	return s
}

// of is the mean strain of the posed skin.
func (s *strainer) of(posed []r3.Vec) float64 {
	r := s.rooms.Get().(*room)
	defer s.rooms.Put(r)
	r.strains = skin.Strains(r.strains, s.rest, posed, s.triangles)
	return r.mean.Of(r.strains)
}

// among is that of marked triangles alone, as a part of all skin.
func (s *strainer) among(posed []r3.Vec, marks []bool) float64 {
	var some [][3]int
	area, all := 0., 0.
	for i, t := range s.triangles {
		size := r3.Norm(r3.Cross(r3.Sub(s.rest[t[1]], s.rest[t[0]]), r3.Sub(s.rest[t[2]], s.rest[t[0]])))
		if all += size; marks[i] {
			some = append(some, t)
			area += size
		}
	}
	if !(area > 0) {
		return 0
	}
	return skin.NewStrainMean(s.rest, some).Of(skin.Strains(nil, s.rest, posed, some)) * area / all
}
