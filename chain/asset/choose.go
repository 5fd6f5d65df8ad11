package asset

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A pose is worse if its strain grows by more than worseBy or the radius of a section
// falls by more than narrowerBy (narrowerIfBetterBy where the strain falls), and a limb gains if the strain of some pose falls by
// betterBy at least. In a clip the limb is a part of a pose: there its strain may also
// grow by worseOfWhole of the strain of all skin, a quarter of what makes a pose worse,
// for several limbs may be at their worst at once. Differences below slack, a part of the strain's unit over all of
// the skin, are below what shows: a mean stretch of 0.14 %.
const (
	worseBy            = 0.03
	worseOfWhole       = 0.0075
	betterBy           = 0.10
	narrowerBy         = 0.03
	narrowerIfBetterBy = 0.10
	slack              = 2e-6
)

// Where a joint's range passes the direction opposite to rest, as that of an arm that
// hangs does overhead, no field avoids both strain and jumps there: the shortest arc
// jumps, and any field that does not has to twist the root. So the limits are wider
// there, by the angle from rest: worseByOpposite to raisedTo, growing to
// worseByOverhead at overheadFrom, and none beyond overheadTo.
const (
	worseByOpposite = 0.08
	worseByOverhead = 0.25
	raisedTo        = 136 * math.Pi / 180
	overheadFrom    = 140 * math.Pi / 180
	overheadTo      = 161 * math.Pi / 180
	// Corners of the range lie where nobody raises an arm to, behind the head.
	cornersTo = 155 * math.Pi / 180
)

const (
	mostAutoSegments = 6
	keptRadius       = 0.95 // by the smallest number of segments
)

// chooser decides how each limb is split.
type chooser struct {
	*trials
	subjects []*subject
	plans    []plan // as decided so far
	first    []plan // the most preferred
	searched []bool
	choices  []Choice
}

// choose settles what limbs leave open: whether they are split, into how many
// segments, by which field and which pieces of skin stay as they were. What a limb
// says is kept.
func choose(f *File, o Options, others []clip) ([]LimbSpec, []Choice, error) {
	e, err := f.Evaluator()
	if err != nil {
		return nil, nil, err
	}
	find := newFinder(f, e, o.Names)
	find.clips = inOrder(append(slices.Clone(e.clips), others...))
	t, err := newTrials(f, e, &find, o)
	if err != nil {
		return nil, nil, err
	}
	c := &chooser{trials: t}
	for i, spec := range o.Limbs {
		s, err := c.subject(i, spec.withDefaults())
		if err != nil {
			return nil, nil, err
		}
		if err := find.admit(s.limb, spec); err != nil {
			return nil, nil, err
		}
		c.subjects = append(c.subjects, s)
	}
	if err := c.gather(); err != nil {
		return nil, nil, err
	}
	for _, s := range c.subjects {
		s.neighbours = c.neighboursOf(s)
		c.plans = append(c.plans, c.firstPlan(s))
	}
	c.searched = make([]bool, len(c.subjects))
	c.choices = make([]Choice, len(c.subjects))
	for _, s := range c.subjects {
		c.choices[s.number] = Choice{Limb: s.spec.Name, Joint: s.spec.Joint, Tried: []Trial{}}
		if err := c.count(s); err != nil {
			return nil, nil, err
		}
	}
	c.first = slices.Clone(c.plans)
	if err := c.settle(); err != nil {
		return nil, nil, err
	}
	if err := c.dropWorse(); err != nil {
		return nil, nil, err
	}
	limbs := []LimbSpec{}
	for _, s := range c.subjects {
		choice, err := c.conclude(s)
		if err != nil {
			return nil, nil, err
		}
		if choice.Split {
			limbs = append(limbs, choice.Resolved)
		}
		c.choices[s.number] = choice
	}
	return limbs, c.choices, nil
}

// subject sets a limb up for being measured.
func (c *chooser) subject(number int, spec LimbSpec) (*subject, error) {
	s := &subject{number: number, spec: spec}
	var err error
	if s.limb, err = c.find.limb(spec); err != nil {
		return nil, err
	}
	s.skin = c.skinOf(s.limb.joint)
	const sampled = 150
	s.sample = c.sampleOf(s.limb.joint, len(s.skin.triangles), sampled)
	if err := c.find.setPieces(s.limb); err != nil {
		return nil, err
	}
	if len(s.skin.triangles) == 0 {
		return s, nil
	}
	s.opposite = !s.limb.usesTip && passesOpposite(s.limb.solver.Range(), s.limb.solver.Axis())
	s.solutions = []*limb{s.limb}
	if c.fieldIsOpen(s) {
		shortest, err := c.as(s, plan{field: FieldShortest, segments: s.limb.solver.Segments()})
		if err != nil {
			return nil, err
		}
		s.solutions = append(s.solutions, shortest)
	}
	c.cut(s)
	return s, nil
}

// gather collects the moments of all limbs and measures the source's skin in them.
func (c *chooser) gather() error {
	for i := range c.find.clips {
		k := &c.find.clips[i]
		motions := c.motions(k)
		for _, s := range c.subjects {
			if s.moves() {
				s.moments = append(s.moments, c.lookThrough(k, motions, s)...)
			}
		}
	}
	for _, s := range c.subjects {
		if !s.moves() {
			continue
		}
		s.moments = s.thinned(s.moments)
		node, axis := s.limb.joint, s.limb.solver.Axis()
		if s.limb.usesTip {
			var err error
			if node, axis, err = c.find.tipAxis(s.limb); err != nil {
				return err
			}
		}
		poses := madePoses(s.limb, axis)
		made := c.find.madeClip(node, poses)
		motions := c.motions(made)
		for i, p := range poses {
			m := c.posedAt(p.name, made, motions, float64(i+1))
			m.made, m.plain = true, p.plain
			if !s.limb.usesTip {
				m.away = angleBetween(axis, rotated(p.turn, axis))
			}
			s.moments = append(s.moments, m)
		}
		s.source = c.measure(s, &s.skin.source, everything(len(s.moments)), func(dst []mgl64.Mat4, _ int) []mgl64.Mat4 { return dst })
	}
	return nil
}

// moves reports whether the limb moves any skin.
func (s *subject) moves() bool { return len(s.skin.triangles) > 0 }

// everything is the numbers below n.
func everything(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// neighboursOf are the other limbs that move some of a limb's skin.
func (c *chooser) neighboursOf(s *subject) (out []int) {
	moves := map[int]bool{}
	for _, x := range s.skin.source.palette {
		moves[int(x)] = true
	}
	for _, other := range c.subjects {
		for i, skinned := range c.file.Doc.Skins {
			at := slices.Index(skinned.Joints, other.limb.joint)
			if other != s && at >= 0 && moves[c.base[i]+at] {
				out = append(out, other.number)
				break
			}
		}
	}
	return out
}

// fieldIsOpen reports whether the field may be chosen: the limb bends by one that is
// not the shortest arc already, and its limb file names none. The shortest arc is no
// choice where it is singular within the range.
func (c *chooser) fieldIsOpen(s *subject) bool {
	return !s.opposite && !s.limb.usesTip && s.spec.Field == "" && s.spec.Centre.Direction == nil && s.limb.field != FieldShortest
}

// numberIsOpen reports whether the number of segments may be chosen.
func numberIsOpen(spec LimbSpec) bool { return spec.Segments == 0 && spec.Shares.List == nil }

func (c *chooser) firstPlan(s *subject) plan {
	p := plan{segments: s.limb.solver.Segments()}
	if !s.limb.usesTip {
		p.field = s.limb.field
	}
	return p
}

// settle searches a plan for each group of limbs until none changes: what a limb's
// neighbours do changes what its own plan is worth.
func (c *chooser) settle() error {
	const rounds = 3
	for range rounds {
		changed := false
		for _, group := range c.groups() {
			before := make([]plan, len(group))
			for i, s := range group {
				before[i] = c.plans[s.number]
			}
			if err := c.search(group); err != nil {
				return err
			}
			for i, s := range group {
				changed = changed || before[i] != c.plans[s.number]
			}
		}
		if !changed {
			return nil
		}
	}
	return nil
}

// dropWorse leaves limbs as they are whose plan is no good one beside the plans that
// their neighbours have in the end, until there is none.
func (c *chooser) dropWorse() error {
	for range c.subjects {
		dropped := false
		for _, s := range c.subjects {
			if !c.plans[s.number].isSplit() || !numberIsOpen(s.spec) || len(s.moments) == 0 {
				continue
			}
			if err := c.setUnsplit(s); err != nil {
				return err
			}
			which := everything(len(s.moments))
			split, err := c.try(s, c.plans[s.number], which)
			if err != nil {
				return err
			}
			if !c.judge(s, which, split).fine() {
				c.plans[s.number], dropped = plan{}, true
			}
		}
		if !dropped {
			return nil
		}
	}
	return nil
}

// groups are limbs that are decided together: those of the two sides, so that a
// character who is the same on both sides is split the same way on both.
func (c *chooser) groups() (out [][]*subject) {
	byName := map[string]int{}
	for _, s := range c.subjects {
		if len(s.skin.triangles) == 0 || len(s.moments) == 0 {
			continue
		}
		// Limbs that are decided together have the same plans to choose from.
		key := fmt.Sprint(withoutSide(s.spec.Name), s.spec.Segments, s.spec.Shares, s.spec.Twist, s.limb.field, s.opposite, c.fieldIsOpen(s))
		if at, ok := byName[key]; ok {
			out[at] = append(out[at], s)
			continue
		}
		byName[key] = len(out)
		out = append(out, []*subject{s})
	}
	return out
}

// withoutSide is a limb's name without the words for its side.
func withoutSide(name string) string {
	var out []string
	for _, word := range splitName(name) {
		if sideOf(lookUp(word)) == 0 && word != "l" && word != "r" {
			out = append(out, word)
		}
	}
	return strings.Join(out, " ")
}

// rotated is v turned by q.
func rotated(q quat.Number, v r3.Vec) r3.Vec { return rest.Frame{Rotation: q}.Direction(v) }

// count chooses the number of segments: the smallest that keeps the radius at the
// twist that the clips and the range of motion require.
func (c *chooser) count(s *subject) error {
	if !numberIsOpen(s.spec) || len(s.skin.triangles) == 0 || len(s.moments) == 0 {
		return nil
	}
	need := c.twistNeeded(s)
	number := autoSegments(need)
	best, radii := 0., map[int]float64{}
	if s.sections != nil {
		for n := minSegments; n <= mostAutoSegments; n++ {
			p := c.plans[s.number]
			p.segments = n
			radius, err := c.radiusAt(s, p, need)
			if err != nil {
				return err
			}
			radii[n] = radius
			best = max(best, radii[n])
		}
		const alike = 0.01 // of the radius: nobody sees it
		for n := mostAutoSegments; n >= minSegments; n-- {
			if radii[n] >= min(keptRadius, best-alike) {
				number = n
			}
		}
	}
	c.plans[s.number].segments = number
	return nil
}

// autoSegments is the number of segments that keeps 95 % of a round limb's radius at a
// twist in radians, by the formula; 2 to 6.
func autoSegments(twist float64) int {
	n, err := skin.Segments(twist, 1-keptRadius)
	if err != nil {
		return DefaultSegments
	}
	return min(max(n, minSegments), mostAutoSegments)
}

// twistNeeded is the greatest twist that clips and the joint's range require, in
// radians. Rotations of joints are those of references such as the AAOS's: hip 45,
// shoulder 90, forearm 80 degrees; where nothing is known it is 90 degrees.
func (c *chooser) twistNeeded(s *subject) float64 {
	const degree = math.Pi / 180
	need, keyed := 0., false
	for _, m := range s.moments {
		if twists := m.twists[s.number][0]; !m.made {
			need, keyed = max(need, math.Abs(twists[0]), math.Abs(twists[1])), true
		}
	}
	switch {
	case s.limb.usesTip && c.isPerson():
		need = max(need, 80*degree)
	case s.limb.motion.Name == RangeHip:
		need = max(need, 45*degree)
	case s.limb.motion.Name == RangeShoulder:
		need = max(need, 90*degree)
	case !keyed:
		need = 90 * degree
	}
	const most = 150 * degree
	return min(need, most)
}

// isPerson reports whether some limb has a person's range of motion.
func (c *chooser) isPerson() bool {
	return slices.ContainsFunc(c.subjects, func(s *subject) bool {
		return s.limb.motion.Name == RangeHip || s.limb.motion.Name == RangeShoulder
	})
}
