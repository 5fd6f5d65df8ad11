package asset

import (
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/parallel"
	"gonum.org/v1/gonum/spatial/r3"
)

// plan is how a limb may be split. The zero value leaves it as it is.
type plan struct {
	field    string // of swings; empty where the limb keeps all of the joint's own twist
	segments int    // 0: the limb is not split
	left     string // pieces of the skin that stay as they were, joined: plans are comparable
}

// pieceSeparator stands between names of pieces; no name of a mesh has it.
const pieceSeparator = "\x00"

func (p plan) isSplit() bool { return p.segments > 0 }

// subject is a limb that is measured.
type subject struct {
	number     int
	spec       LimbSpec // with its defaults
	limb       *limb    // as its own settings have it
	solved     map[plan]*limb
	skin       *trialSkin
	sample     *trialSkin // some of its triangles
	opposite   bool       // its range of motion passes the direction opposite to rest
	neighbours []int      // the limbs that move some of the same skin
	solutions  []*limb    // by its own field and, where that is another, by the shortest arc
	moments    []posed
	sections   *skin.Sections // nil for a limb that cannot be cut
	source     []measured     // by moment
	unsplit    trial          // as it is, beside its neighbours
	last       trial          // the last one, with its own plan before those of the neighbours
}

// trial is what was measured at all moments under some plans.
type trial struct {
	beside []plan
	split  []measured
}

// measured is a limb's skin at one moment.
type measured struct {
	strain []float64 // of each piece
	radius float64   // the least; NaN where it was not measured
}

// as is the limb resolved for a plan.
func (t *trials) as(s *subject, p plan) (*limb, error) {
	if l := s.solved[p]; l != nil {
		return l, nil
	}
	spec := s.spec
	spec.Segments = p.segments
	if s.limb.motion.Name == "" { // a range that was fitted to clips is fitted once
		spec.Range = s.limb.motion
	}
	if p.field != "" {
		spec.Field = p.field
	}
	l, err := t.find.limb(spec)
	if err != nil {
		return nil, err
	}
	l.frames, l.pieces, l.rules = s.limb.frames, s.limb.pieces, s.limb.rules
	if p.left != "" {
		l.rules = maps.Clone(l.rules)
		left := strings.Split(p.left, pieceSeparator)
		for i := range t.skin.worn {
			w := &t.skin.worn[i]
			for _, piece := range w.piece {
				if piece != noPiece && slices.Contains(left, t.skin.ids[piece]) {
					l.rules[piecePart{w.wearing, piece}] = leftPiece
				}
			}
		}
	}
	if s.solved == nil {
		s.solved = map[plan]*limb{}
	}
	s.solved[p] = l
	return l, nil
}

// weights are the skin's influences with limbs split: the segments of the k-th limb
// have their matrices after those of the limbs before it.
func (t *trials) weights(s *subject, limbs []*limb) influenceList {
	perSkin := make([][]joined, len(t.base))
	at := t.matrices
	for k, l := range limbs {
		homes := l.homes(t.skin)
		for i := range perSkin {
			frame, known := l.frames[i]
			if known {
				j := joined{limb: k, frame: frame, rules: l.rules, homes: homes}
				for n := range l.shares {
					j.segments = append(j.segments, firstSegment+at+n)
				}
				perSkin[i] = append(perSkin[i], j)
			}
			at += len(l.shares)
		}
	}
	var out influenceList
	var before, after []skin.Influence
	var given []handover
	r := reweighter{}
	for _, o := range s.skin.origins {
		worn := &t.skin.worn[o.worn]
		before = appendInfluences(before[:0], worn.skinnedVertices, o.vertex)
		given = r.handovers(given[:0], before, perSkin[worn.skin], worn, o.vertex)
		if len(given) == 0 {
			out.add(before, t.base[worn.skin])
			continue
		}
		after, _ = handOver(after[:0], before, given, t.options.Basis, max(t.options.Influences, 4*len(worn.influences)))
		out.add(after, t.base[worn.skin])
	}
	return out
}

// run is the strain of each piece of a limb's skin, by moment, with the plans of the
// limb and its neighbours, in this order; which says at which moments.
func (t *trials) run(s *subject, subjects []*subject, limbs []*limb, plans []plan, which []int) []measured {
	held := t.weights(s, limbs)
	return t.measure(s, &held, which, func(dst []mgl64.Mat4, at int) []mgl64.Mat4 {
		m := &s.moments[which[at]]
		for k, l := range limbs {
			dst = t.segmentMatrices(dst, l, m.world, m.twists[subjects[k].number][subjects[k].solution(plans[k])])
		}
		return dst
	})
}

// solution is which of the subject's solutions a plan asks for.
func (s *subject) solution(p plan) int {
	if p.field == FieldShortest && len(s.solutions) > 1 {
		return 1
	}
	return 0
}

// measure skins a limb's part of the skin at some moments. more appends matrices to
// the palette of the at-th of them.
func (t *trials) measure(s *subject, held *influenceList, which []int, more func(dst []mgl64.Mat4, at int) []mgl64.Mat4) []measured {
	out := make([]measured, len(which))
	type room struct {
		palette []mgl64.Mat4
		posed   []r3.Vec
	}
	rooms := sync.Pool{New: func() any { return &room{posed: make([]r3.Vec, len(s.skin.positions))} }}
	parallel.Each(len(which), func(i int) {
		room := rooms.Get().(*room)
		defer rooms.Put(room)
		room.palette = t.palette(room.palette, s.moments[which[i]].world)
		shrink := t.shrink(s.limb.joint, room.palette)
		room.palette = more(room.palette, i)
		s.skin.pose(room.posed, held, room.palette)
		out[i] = measured{strain: s.skin.strains(nil, room.posed, shrink), radius: math.NaN()}
		if s.sections != nil && s.moments[which[i]].plain {
			out[i].radius = s.radius(room.posed)
		}
	})
	return out
}
