package asset

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// verdict sums up a limb's plan over its moments.
type verdict struct {
	better, worse int
	best, worst   int // moments; -1 where there is none
	gains         bool
	excess        float64 // the worst moment's strain over what it may be, 1 at the limit
}

// fine reports whether no pose got worse and some gained.
func (v verdict) fine() bool { return v.worse == 0 && v.gains }

// limit is by how much the strain may grow at a moment.
func (s *subject) limit(m *posed) float64 {
	switch {
	case !s.opposite, m.plain:
		return worseBy
	case m.away > overheadTo, m.made && m.away > cornersTo:
		return math.Inf(1)
	}
	overhead := min(max(m.away-raisedTo, 0)/(overheadFrom-raisedTo), 1)
	return worseByOpposite + overhead*(worseByOverhead-worseByOpposite)
}

// judge compares a plan's measurements with those of the limb as it is.
func (c *chooser) judge(s *subject, which []int, split []measured) verdict {
	v := verdict{best: -1, worst: -1}
	most, worstRatio := 0., 0.
	for i, at := range which {
		m := &s.moments[at]
		before, after := total(s.unsplit.split[at].strain)/c.area, total(split[i].strain)/c.area
		excess := 0.
		if limit := s.limit(m); !math.IsInf(limit, 1) { // else nothing is promised there
			allowed := (1+limit)*before + slack
			if after > allowed && !m.made {
				// In a clip the limb is a part of a pose.
				allowed = max(allowed, before+worseOfWhole*c.wholeAt(s, m)+slack)
			}
			if excess = after / allowed; excess != excess {
				excess = math.Inf(1)
			}
			if narrower := s.unsplit.split[at].radius - split[i].radius; narrower > allowedNarrower(before, after) {
				excess = max(excess, 1+narrower)
			}
		}
		if excess > worstRatio {
			worstRatio, v.worst = excess, i
		}
		switch {
		case excess > 1:
			v.worse++
		case after < (1-worseBy)*before-slack:
			v.better++
		}
		if gain := before - after; gain > most && after < (1-betterBy)*before-slack {
			most, v.best, v.gains = gain, i, true
		}
	}
	v.excess = worstRatio
	return v
}

// wholeAt is the strain of all of the source's skin at a moment.
func (c *chooser) wholeAt(s *subject, m *posed) float64 {
	if m.whole == 0 {
		m.whole = c.wholeStrain(m.world, c.shrink(s.limb.joint, c.palette(nil, m.world)))
	}
	return m.whole
}

// allowedNarrower is by how much the radius may fall, as a part of that at rest. A
// source that is wrung at the root narrows there, where no section goes round the
// bone; the split spreads the twist over the bone, where it shows. So where the strain
// falls the radius may fall somewhat more.
func allowedNarrower(before, after float64) float64 {
	if after < (1-betterBy)*before {
		return narrowerIfBetterBy
	}
	return narrowerBy
}

func total(pieces []float64) (sum float64) {
	for _, x := range pieces {
		sum += x
	}
	return sum
}

// try measures a plan for a limb at some moments, while its neighbours have theirs.
func (c *chooser) try(s *subject, p plan, which []int) ([]measured, error) {
	beside := append([]plan{p}, c.beside(s)...)
	whole := len(which) == len(s.moments)
	if whole && slices.Equal(s.last.beside, beside) {
		return s.last.split, nil
	}
	if whole && !slices.ContainsFunc(beside, plan.isSplit) {
		return s.source, nil
	}
	var subjects []*subject
	var limbs []*limb
	var plans []plan
	add := func(s *subject, p plan) error {
		if !p.isSplit() {
			return nil
		}
		l, err := c.as(s, p)
		if err != nil {
			return err
		}
		subjects, limbs, plans = append(subjects, s), append(limbs, l), append(plans, p)
		return nil
	}
	if err := add(s, p); err != nil {
		return nil, err
	}
	for _, k := range s.neighbours {
		if err := add(c.subjects[k], c.plans[k]); err != nil {
			return nil, err
		}
	}
	split := c.run(s, subjects, limbs, plans, which)
	if whole {
		s.last = trial{beside, split}
	}
	return split, nil
}

// beside are the plans of a limb's neighbours.
func (c *chooser) beside(s *subject) (plans []plan) {
	for _, k := range s.neighbours {
		plans = append(plans, c.plans[k])
	}
	return plans
}

// setUnsplit measures a limb as it is beside its neighbours' plans: what they do to the
// skin that they share with it is no fault of its own.
func (c *chooser) setUnsplit(s *subject) error {
	beside := c.beside(s)
	if s.unsplit.split != nil && slices.Equal(s.unsplit.beside, beside) {
		return nil
	}
	last := s.last
	split, err := c.try(s, plan{}, everything(len(s.moments)))
	s.unsplit, s.last = trial{beside, split}, last
	return err
}

// search finds the first plan in the order of preference under which no pose of the
// group's limbs is worse and each gains: the settings that are there, more segments,
// pieces left as they were, then the same with the shortest arc. Where there is none
// the limbs stay as they are, or as their limb file asks for.
func (c *chooser) search(group []*subject) error {
	for _, s := range group {
		if err := c.setUnsplit(s); err != nil {
			return err
		}
	}
	if kept, err := c.stillFine(group); err != nil || kept {
		return err
	}
	failing := make(map[*subject][]int)
	for _, p := range c.candidates(group) {
		fine := true
		plans := make([]plan, len(group))
		for i, s := range group {
			var err error
			if plans[i], err = c.fit(s, p, failing); err != nil {
				return err
			}
			fine = fine && plans[i].isSplit()
		}
		if fine {
			for i, s := range group {
				c.plans[s.number] = plans[i]
			}
			return nil
		}
	}
	if len(group) > 1 && !alikeSkins(group) {
		for _, s := range group {
			c.searched[s.number] = false
			if err := c.search([]*subject{s}); err != nil {
				return err
			}
		}
		return nil
	}
	for _, s := range group {
		c.plans[s.number] = plan{}
		if !numberIsOpen(s.spec) { // a limb file asks for the split
			if err := c.leastWorse(s); err != nil {
				return err
			}
		}
	}
	return nil
}

// alikeSkins reports whether limbs move as much skin as one another, to a tenth: then
// they are the two sides of one body, and stay alike.
func alikeSkins(group []*subject) bool {
	least, most := math.MaxInt, 0
	for _, s := range group {
		least, most = min(least, len(s.skin.triangles)), max(most, len(s.skin.triangles))
	}
	return 10*(most-least) <= most
}

// leastWorse takes the plan under which the fewest poses get worse.
func (c *chooser) leastWorse(s *subject) error {
	fewest := math.MaxInt
	for _, p := range c.candidates([]*subject{s}) {
		which := everything(len(s.moments))
		split, err := c.try(s, p, which)
		if err != nil {
			return err
		}
		if v := c.judge(s, which, split); v.worse < fewest {
			fewest, c.plans[s.number] = v.worse, p
		}
	}
	return nil
}

// stillFine reports whether the group's plans, found in an earlier round, still are
// good ones beside the plans of their neighbours now. A limb that was left as it is
// stays so.
func (c *chooser) stillFine(group []*subject) (bool, error) {
	for _, s := range group {
		if !c.searched[s.number] {
			for _, s := range group {
				c.searched[s.number] = true
			}
			return false, nil
		}
		if !c.plans[s.number].isSplit() || !numberIsOpen(s.spec) {
			continue
		}
		which := everything(len(s.moments))
		split, err := c.try(s, c.plans[s.number], which)
		if err != nil || !c.judge(s, which, split).fine() {
			return false, err
		}
	}
	return true, nil
}

// candidates are the plans that a group's limbs may have, in the order of preference.
func (c *chooser) candidates(group []*subject) (out []plan) {
	first := plan{}
	for _, s := range group {
		p := c.first[s.number]
		first.segments, first.field = max(first.segments, p.segments), p.field
	}
	most := first.segments
	if numberIsOpen(group[0].spec) {
		most = max(most, mostAutoSegments)
	}
	fields := []string{first.field}
	if c.fieldIsOpen(group[0]) {
		fields = append(fields, FieldShortest)
	}
	for _, field := range fields {
		for n := first.segments; n <= most; n++ {
			out = append(out, plan{field: field, segments: n})
		}
	}
	return out
}

// fit tries a plan for one limb, and then with those pieces left as they were that
// only lose by it. The plan that it gives is not split where neither will do.
func (c *chooser) fit(s *subject, p plan, failing map[*subject][]int) (plan, error) {
	for range 2 {
		// Poses that made an earlier plan fail come first: they cost little.
		if which := failing[s]; len(which) > 0 && p.left == "" {
			split, err := c.try(s, p, which)
			if err != nil {
				return plan{}, err
			}
			if v := c.judge(s, which, split); v.worse > 0 && len(c.losing(s, which, split)) == 0 {
				c.tell(s, p, v, which, split)
				return plan{}, nil
			}
		}
		which := everything(len(s.moments))
		split, err := c.try(s, p, which)
		if err != nil {
			return plan{}, err
		}
		v := c.judge(s, which, split)
		c.tell(s, p, v, which, split)
		if v.fine() {
			return p, nil
		}
		if v.worst >= 0 && v.worse > 0 && !slices.Contains(failing[s], which[v.worst]) {
			failing[s] = append(failing[s], which[v.worst])
		}
		losing := c.losing(s, which, split)
		if p.left != "" || len(losing) == 0 || s.spec.Exclude != nil {
			return plan{}, nil
		}
		p.left = strings.Join(losing, pieceSeparator)
	}
	return plan{}, nil
}

// losing are the pieces of a limb's skin that lose more by a plan, at some moment,
// than they gain at any; not all of them, for that would be no split.
func (c *chooser) losing(s *subject, which []int, split []measured) []string {
	type piece struct {
		name       string
		gain, loss float64
	}
	pieces := make([]piece, len(s.skin.pieces))
	for k, number := range s.skin.pieces {
		pieces[k].name = c.skin.ids[number]
		for i, at := range which {
			before, after := s.unsplit.split[at].strain[k]/c.area, split[i].strain[k]/c.area
			pieces[k].gain = max(pieces[k].gain, before-after)
			if limit := s.limit(&s.moments[at]); !math.IsInf(limit, 1) {
				pieces[k].loss = max(pieces[k].loss, after-(1+limit)*before)
			}
		}
	}
	var out []string
	for _, p := range pieces {
		if p.loss > slack/4 && p.loss > p.gain {
			out = append(out, p.name)
		}
	}
	if len(out) == len(pieces) {
		return nil
	}
	slices.SortFunc(out, cmp.Compare[string])
	return out
}

// tell notes a trial for the report.
func (c *chooser) tell(s *subject, p plan, v verdict, which []int, split []measured) {
	t := Trial{Segments: p.segments, Field: p.field, Poses: len(which), Better: v.better, Worse: v.worse, excess: v.excess}
	if p.left != "" {
		t.Left = strings.Count(p.left, pieceSeparator) + 1
	}
	if v.worst >= 0 {
		t.Worst = c.strained(s, which[v.worst], split[v.worst])
	}
	c.choices[s.number].Tried = append(c.choices[s.number].Tried, t)
}

// strained is one moment, for the report.
func (c *chooser) strained(s *subject, at int, split measured) Strained {
	number := func(x float64) float64 {
		if math.IsNaN(x) {
			return 0
		}
		return x
	}
	return Strained{
		Pose: s.moments[at].name, Source: total(s.unsplit.split[at].strain) / c.area, Split: total(split.strain) / c.area,
		SourceRadius: number(s.unsplit.split[at].radius), SplitRadius: number(split.radius),
	}
}
