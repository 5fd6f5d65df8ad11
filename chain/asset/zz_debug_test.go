package asset

import (
	"fmt"
	"os"
	"testing"
)

func TestZZ(t *testing.T) {
	f, _ := Open(os.Getenv("ZZ"))
	o, err := Options{}.checked(f)
	if err != nil {
		t.Fatal(err)
	}
	e, _ := f.Evaluator()
	find := newFinder(f, e, o.Names)
	tr, _ := newTrials(f, e, &find, o)
	c := &chooser{trials: tr}
	for i, spec := range o.Limbs {
		s, err := c.subject(i, spec.withDefaults())
		if err != nil {
			t.Fatal(err)
		}
		c.subjects = append(c.subjects, s)
	}
	c.gather()
	for _, s := range c.subjects {
		s.neighbours = c.neighboursOf(s)
		c.plans = append(c.plans, c.firstPlan(s))
	}
	for _, s := range c.subjects {
		if s.spec.Name != os.Getenv("LIMB") {
			continue
		}
		for _, n := range []int{3, 4, 6} {
			p := c.plans[s.number]
			p.segments = n
			which := everything(len(s.moments))
			split, _ := c.try(s, p, which)
			for i := range which {
				fmt.Printf("%d %-40s twist %6.1f  %.4f -> %.4f   r %.3f %.3f\n", n, s.moments[i].name, s.moments[i].most(s.number)*57.3, 100*total(s.source[i].strain)/c.area, 100*total(split[i].strain)/c.area, s.source[i].radius, split[i].radius)
			}
		}
	}
}
