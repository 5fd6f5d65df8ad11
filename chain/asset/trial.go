package asset

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/spatial/r3"
)

// trials measures what splits do to the skin, in memory. It is read only once it is
// set up.
type trials struct {
	splitter // for its options alone
	find     *finder
	base     []int // of each skin: where its joints' matrices begin in a palette
	matrices int   // of all skins' joints
	area     float64
	bindings [][]mgl64.Mat4
	unit     []float64 // of each skin: metres for a unit of its meshes, at rest
	skin     *pieces
	whole    *trialSkin // nil until it is asked for
}

func newTrials(f *File, e *Evaluator, find *finder, o Options) (*trials, error) {
	t := &trials{splitter: splitter{file: f, options: o, source: e}, find: find, bindings: e.inverseBind}
	t.options.History = false
	for _, s := range f.Doc.Skins {
		t.base = append(t.base, t.matrices)
		t.matrices += len(s.Joints)
	}
	atRest := t.palette(nil, find.world)
	for i := range t.base {
		unit := 1.
		if t.bindings[i] != nil {
			if scale := scaleOf(atRest[t.base[i]]); scale > 0 {
				unit = scale
			}
		}
		t.unit = append(t.unit, unit)
	}
	all, err := find.all()
	if err != nil {
		return nil, err
	}
	t.skin = all
	for i := range all.worn {
		p := &all.worn[i]
		unit := t.unit[p.skin]
		for _, c := range p.triangles {
			if _, area, ok := metricOf(p.place(c[0]), p.place(c[1]), p.place(c[2])); ok {
				t.area += area * unit * unit
			}
		}
	}
	return t, nil
}

// place is where a vertex is in the mesh.
func (s *skinnedVertices) place(v int) r3.Vec {
	return r3.Vec{X: s.positions[3*v], Y: s.positions[3*v+1], Z: s.positions[3*v+2]}
}

// skinOf cuts out the part of the skin that a joint moves.
func (t *trials) skinOf(joint int) *trialSkin {
	return t.cutOut(func(p *piecedPrimitive, c [3]int) bool { return t.moves(p, joint, c) })
}

// moves reports whether a joint has weight on a triangle.
func (t *trials) moves(p *piecedPrimitive, joint int, c [3]int) bool {
	at := slices.Index(t.file.Doc.Skins[p.skin].Joints, joint)
	return at >= 0 && p.weightOf(at, c[0])+p.weightOf(at, c[1])+p.weightOf(at, c[2]) > 0
}

// sampleOf is skinOf with so many of its triangles, at equal steps.
func (t *trials) sampleOf(joint, triangles, most int) *trialSkin {
	step, next := max(triangles/most, 1), 0
	return t.cutOut(func(p *piecedPrimitive, c [3]int) bool {
		if !t.moves(p, joint, c) {
			return false
		}
		next++
		return next%step == 0
	})
}

// cutOut cuts out the triangles that are wanted.
func (t *trials) cutOut(wanted func(p *piecedPrimitive, corners [3]int) bool) *trialSkin {
	out := &trialSkin{}
	pieces := map[int]int{}
	var held []skin.Influence
	for i := range t.skin.worn {
		p := &t.skin.worn[i]
		number := map[int]int{}
		for _, c := range p.triangles {
			if !wanted(p, c) {
				continue
			}
			m, area, ok := metricOf(p.place(c[0]), p.place(c[1]), p.place(c[2]))
			if !ok {
				continue
			}
			piece, known := pieces[p.piece[c[0]]]
			if !known {
				piece = len(out.pieces)
				pieces[p.piece[c[0]]] = piece
				out.pieces = append(out.pieces, p.piece[c[0]])
			}
			var corner [3]int
			for j, v := range c {
				n, known := number[v]
				if !known {
					n = len(out.positions)
					number[v] = n
					out.positions = append(out.positions, p.place(v))
					out.origins = append(out.origins, trialOrigin{worn: i, vertex: v})
					held = appendInfluences(held[:0], p.skinnedVertices, v)
					out.source.add(held, t.base[p.skin])
				}
				corner[j] = n
			}
			out.triangles = append(out.triangles, corner)
			out.metrics = append(out.metrics, m)
			unit := t.unit[p.skin]
			out.areas = append(out.areas, area*unit*unit)
			out.perUnit = append(out.perUnit, 1/unit)
			out.pieceOf = append(out.pieceOf, piece)
		}
	}
	return out
}

// palette writes the matrices of all skins' joints in a pose.
func (t *trials) palette(dst []mgl64.Mat4, world []mgl64.Mat4) []mgl64.Mat4 {
	dst = dst[:0]
	for i, s := range t.file.Doc.Skins {
		for k, node := range s.Joints {
			if t.bindings[i] == nil {
				dst = append(dst, mgl64.Mat4{}) // no node wears it
				continue
			}
			dst = append(dst, world[node].Mul4(t.bindings[i][k]))
		}
	}
	return dst
}

// segmentMatrices appends a limb's segments to a palette, for each skin in turn. A
// segment turns about the bone, which goes through the joint: where it stands along
// the bone makes no difference.
func (t *trials) segmentMatrices(dst []mgl64.Mat4, l *limb, world []mgl64.Mat4, twists [2]float64) []mgl64.Mat4 {
	for i, s := range t.file.Doc.Skins {
		at := slices.Index(s.Joints, l.joint)
		for _, share := range l.shares {
			if at < 0 || t.bindings[i] == nil {
				dst = append(dst, mgl64.Mat4{})
				continue
			}
			turn := rest.Frame{Rotation: twist.About(l.axis, l.sense*share.of(twists))}.Mat4()
			dst = append(dst, world[l.joint].Mul4(turn).Mul4(t.bindings[i][at]))
		}
	}
	return dst
}

// scaleOf is the overall scale of a matrix.
func scaleOf(m mgl64.Mat4) float64 { return math.Cbrt(math.Abs(m.Mat3().Det())) }

// shrink is the inverse of a pose's overall scale where the joint is, against rest.
func (t *trials) shrink(joint int, palette []mgl64.Mat4) float64 {
	for i, s := range t.file.Doc.Skins {
		if at := slices.Index(s.Joints, joint); at >= 0 && t.bindings[i] != nil {
			if scale := scaleOf(palette[t.base[i]+at]); scale > 0 {
				return t.unit[i] / scale
			}
		}
	}
	return 1
}

// mostSampled is how many triangles stand for all of the skin where that is only a
// measure to compare with.
const mostSampled = 1000

// wholeStrain is the strain of all of the source's skin in a pose, by a sample of its
// triangles at equal steps.
func (t *trials) wholeStrain(world []mgl64.Mat4, shrink float64) float64 {
	if t.whole == nil {
		t.whole = t.sampled()
	}
	posed := make([]r3.Vec, len(t.whole.positions))
	t.whole.pose(posed, &t.whole.source, t.palette(nil, world))
	sum := 0.
	for _, area := range t.whole.areas {
		sum += area
	}
	if sum == 0 {
		return 0
	}
	return total(t.whole.strains(nil, posed, shrink)) / sum
}

func (t *trials) sampled() *trialSkin {
	count := 0
	for i := range t.skin.worn {
		count += len(t.skin.worn[i].triangles)
	}
	step, next := max(count/mostSampled, 1), 0
	return t.cutOut(func(*piecedPrimitive, [3]int) bool {
		next++
		return next%step == 0
	})
}
