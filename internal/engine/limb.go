package engine

import (
	"unsafe"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
)

// Limb is ready to solve. It does not change.
type Limb struct {
	handle Handle
	solver *chain.Solver
	hasTip bool
	single chain.Batch[float32]
	double chain.Batch[float64]
}

// add takes a limb in.
func add(s *chain.Solver) Handle {
	_, tip := s.Shares()
	return limbs.add(&Limb{
		solver: s, hasTip: tip != nil,
		single: chain.NewBatch[float32](s), double: chain.NewBatch[float64](s),
	})
}

// Segments is how many rotations a solve writes.
func (l *Limb) Segments() int { return l.solver.Segments() }

// HasTip reports whether the limb reads the tip's rotations.
func (l *Limb) HasTip() bool { return l.hasTip }

// Result is what a single solve learns about the pose, as chain.Result has it.
type Result struct {
	Twist, TipTwist         float64 // radians in (-pi, pi]
	Condition, TipCondition float64 // cosine of half the swing, away from the centre and the axis
}

// Solve solves one pose, quaternions as x, y, z, w: segments has four numbers for
// each segment, and any other length is BadArgument. tip may be nil where the limb
// does not read it. It allocates nothing.
func (l *Limb) Solve(segments []float64, joint, tip *[4]float64) (Result, Status, error) {
	if len(segments) != 4*l.Segments() {
		return Result{}, BadArgument, BadArgument.errorf("segments has %d numbers, expected %d, 4 for each segment", len(segments), 4*l.Segments())
	}
	if joint == nil {
		return Result{}, BadArgument, isNull("joint")
	}
	var far quat.Number
	if l.hasTip {
		if tip == nil {
			return Result{}, BadArgument, noTips("tip")
		}
		far = number(tip)
	}
	near := number(joint)
	// Solved in place, where gonum has the real part first.
	quats := unsafe.Slice((*quat.Number)(unsafe.Pointer(unsafe.SliceData(segments))), len(segments)/4)
	r := l.solver.Solve(quats, near, far)
	for i, q := range quats {
		quats[i] = quat.Number{Real: q.Imag, Imag: q.Jmag, Jmag: q.Kmag, Kmag: q.Real}
	}
	status := OK
	switch {
	case (r.Twist+r.TipTwist)*0 != 0:
		status = NotFinite
	case !r.Defined:
		status = Undefined
	}
	return Result{r.Twist, r.TipTwist, r.Condition, r.TipCondition}, status, nil
}

func number(q *[4]float64) quat.Number {
	return quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}
}

// batch is the limb's in one of the two precisions.
func batch[F float32 | float64](l *Limb) *chain.Batch[F] {
	if b, ok := any(&l.single).(*chain.Batch[F]); ok {
		return b
	}
	return any(&l.double).(*chain.Batch[F])
}

// Solve solves n poses, on up to so many goroutines, as chain.Batch does. On one it
// allocates nothing.
func Solve[F float32 | float64](l *Limb, dst, joints, tips chain.Rotations[F], n, threads int) (o chain.Outcome, err error) {
	if err := noOverlap(&dst, n, l.Segments()); err != nil {
		return o, err
	}
	if b := batch[F](l); threads > 1 {
		o, err = b.SolveOn(threads, dst, joints, tips, n)
	} else {
		o, err = b.Solve(dst, joints, tips, n)
	}
	if err != nil {
		return o, BadArgument.errorf("%s", ownWords(err))
	}
	return o, nil
}
