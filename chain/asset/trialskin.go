package asset

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// trialSkin is the part of the skin that one limb moves: the triangles of which
// some vertex has weight on the limb's joint. A trial skins it in memory, without
// writing a file.
type trialSkin struct {
	positions []r3.Vec // in the mesh's own space, as the inverse bind matrices take them
	source    influenceList
	origins   []trialOrigin
	triangles [][3]int
	metrics   []metric  // of the triangles
	areas     []float64 // in square metres
	perUnit   []float64 // of the triangles: units of their mesh in a metre, at rest
	pieces    []int     // the connected pieces, as numbered in the file
	pieceOf   []int     // of each triangle: an index into pieces
}

// trialOrigin says where a vertex of a trial comes from: a primitive, and a vertex in
// it.
type trialOrigin struct{ worn, vertex int }

// influenceList holds the influences of all vertices, one after another.
type influenceList struct {
	start   []int32 // one more than there are vertices
	palette []int32 // index of the matrix
	weight  []float64
}

// firstSegment is what the number of a segment's matrix has on top, in an influence:
// joints of a skin are numbered as in the skin.
const firstSegment = 1 << 20

// add ends a vertex' list; base is where the matrices of its skin's joints begin.
// Weights are brought to the sum of 1, as viewers show them.
func (l *influenceList) add(held []skin.Influence, base int) {
	if len(l.start) == 0 {
		l.start = append(l.start, 0)
	}
	sum := 0.
	for _, x := range held {
		sum += x.Weight
	}
	for _, x := range held {
		matrix := base + x.Joint
		if x.Joint >= firstSegment {
			matrix = x.Joint - firstSegment
		}
		l.palette = append(l.palette, int32(matrix))
		l.weight = append(l.weight, x.Weight/sum)
	}
	l.start = append(l.start, int32(len(l.palette)))
}

// metric is a triangle at rest: the inverse of its first fundamental form, by which
// the stretches of its posed form follow without another division.
type metric struct{ a, b, c, det float64 }

// metricOf is false for a triangle without area, which cannot be strained. It gives
// the triangle's area, too.
func metricOf(p, q, r r3.Vec) (m metric, area float64, ok bool) {
	e, f := r3.Sub(q, p), r3.Sub(r, p)
	a, b, c := r3.Dot(e, e), r3.Dot(e, f), r3.Dot(f, f)
	det := a*c - b*b
	const flat = 1e-16 // of the squares: rounding alone leaves as much
	if !(det > flat*(a*c)) {
		return metric{}, 0, false
	}
	return metric{a: c / det, b: -2 * b / det, c: a / det, det: 1 / det}, math.Sqrt(det) / 2, true
}

// mostStretch is the stretch beyond which a triangle counts no further, as in the
// measure that the choice is judged by.
const mostStretch = 3

// strain is (least-1)^2 + (most-1)^2 for the triangle's stretches at an overall
// scale of 1/shrink. NaN counts as the most there is.
func (m *metric) strain(p, q, r r3.Vec, shrink float64) float64 {
	e, f := r3.Sub(q, p), r3.Sub(r, p)
	a, b, c := r3.Dot(e, e), r3.Dot(e, f), r3.Dot(f, f)
	trace, det := m.a*a+m.b*b+m.c*c, (a*c-b*b)*m.det
	root := math.Sqrt(max(trace*trace/4-det, 0))
	least, most := math.Sqrt(max(trace/2-root, 0))*shrink-1, min(math.Sqrt(trace/2+root)*shrink, mostStretch)-1
	if s := least*least + most*most; s == s {
		return s
	}
	return 1 + (mostStretch-1)*(mostStretch-1)
}

// pose skins the part with a palette of matrices.
func (t *trialSkin) pose(dst []r3.Vec, held *influenceList, palette []mgl64.Mat4) {
	for v, p := range t.positions {
		var sum r3.Vec
		for k := held.start[v]; k < held.start[v+1]; k++ {
			m, w := &palette[held.palette[k]], held.weight[k]
			sum.X += w * (m[0]*p.X + m[4]*p.Y + m[8]*p.Z + m[12])
			sum.Y += w * (m[1]*p.X + m[5]*p.Y + m[9]*p.Z + m[13])
			sum.Z += w * (m[2]*p.X + m[6]*p.Y + m[10]*p.Z + m[14])
		}
		dst[v] = sum
	}
}

// strains adds up the strain of each piece, by area.
func (t *trialSkin) strains(dst []float64, posed []r3.Vec, shrink float64) []float64 {
	dst = append(dst[:0], make([]float64, len(t.pieces))...)
	for i, c := range t.triangles {
		dst[t.pieceOf[i]] += t.areas[i] * t.metrics[i].strain(posed[c[0]], posed[c[1]], posed[c[2]], shrink*t.perUnit[i])
	}
	return dst
}
