package chain

import (
	"github.com/pronate/pronate/internal/kernel"
	"github.com/pronate/pronate/swing"
)

// WithField is the solver with another field of swings.
func (s *Solver) WithField(field *swing.Field) *Solver {
	out := *s
	shortest, _ := swing.NewField(s.axis, s.axis)
	out.field = field
	out.law = kernel.NewLaw[float64](s.axis, s.own, s.tip, field, shortest)
	out.single = kernel.NewLaw[float32](s.axis, s.own, s.tip, field, shortest)
	return &out
}
