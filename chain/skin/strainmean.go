package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// mostCounted is up to which stretch a triangle counts: a few torn triangles
// shall not outweigh the rest of the skin.
const mostCounted = 3

// StrainMean measures how much a skin as a whole is strained, in many poses of
// one mesh. It holds what does not change from pose to pose.
type StrainMean struct {
	areas []float64 // at rest
	total float64
	roots []float64 // room for the median
	run   []int
}

// NewStrainMean takes the mesh at rest. A triangle without area there, or with
// a vertex that is not finite or out of range, counts for nothing.
func NewStrainMean(rest []r3.Vec, triangles [][3]int) *StrainMean {
	m := &StrainMean{areas: make([]float64, len(triangles)), roots: make([]float64, 0, len(triangles)), run: make([]int, 0, len(triangles))}
	for i, t := range triangles {
		if !within(t, len(rest)) {
			continue
		}
		a, b := edges(rest, t)
		twice := r3.Norm(r3.Cross(a, b))
		if twice > flat*r3.Norm(a)*r3.Norm(b) && twice <= math.MaxFloat64 {
			m.areas[i] = twice / 2
			m.total += m.areas[i]
		}
	}
	return m
}

// Of is the mean over the skin's area of (Least-1)² + (Most-1)², for the strains
// that [Strains] gives of the same triangles. Stretches are relative to the
// pose's own scale, the median of sqrt(Least Most), so that a character that is
// scaled as a whole is not strained. Most counts up to 3. It is 0 for a skin that
// is only moved, and NaN where a strain is not a number or where there are not as
// many strains as triangles. It allocates nothing; one StrainMean must not be
// used by two goroutines at a time.
func (m *StrainMean) Of(strains []Strain) float64 {
	if len(strains) != len(m.areas) {
		return math.NaN()
	}
	if m.total == 0 {
		return 0
	}
	scale := m.scale(strains)
	sum := 0.0
	for i, s := range strains {
		if m.areas[i] > 0 {
			least, most := s.Least/scale-1, min(s.Most/scale, mostCounted)-1
			sum += m.areas[i] * (least*least + most*most)
		}
	}
	return sum / m.total
}

// scale is the pose's own, 1 where most of the skin is pressed to nothing.
func (m *StrainMean) scale(strains []Strain) float64 {
	m.roots = m.roots[:0]
	for i, s := range strains {
		if m.areas[i] > 0 {
			m.roots = append(m.roots, math.Sqrt(s.Least*s.Most))
		}
	}
	m.run = m.run[:0]
	for i := range m.roots {
		m.run = append(m.run, i)
	}
	half := len(m.roots) / 2
	choose(m.run, m.roots, half)
	median := m.roots[m.run[half]]
	if len(m.roots)%2 == 0 {
		below := math.Inf(-1)
		for _, i := range m.run[:half] {
			below = max(below, m.roots[i])
		}
		median = (below + median) / 2
	}
	if !(median > 0) {
		return 1
	}
	return median
}
