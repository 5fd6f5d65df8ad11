package chain

import (
	"fmt"

	"github.com/pronate/pronate/internal/kernel"
	"github.com/pronate/pronate/internal/parallel"
	"gonum.org/v1/gonum/num/quat"
)

// Rotations says where rotations lie in memory, in arrays that stay the caller's.
// Component X of segment i of rotation j is X[j*Stride + i*Segment], and so on.
// [Quaternions], [Planes] and [Numbers] describe the usual layouts. A step of 0
// repeats one rotation; where rotations are written no two may share a number.
// The zero value has none, which is right for tips that are not read.
type Rotations[F float32 | float64] struct {
	X, Y, Z, W []F
	Stride     int // elements from one rotation, or limb, to the next
	Segment    int // elements from one segment of a limb to the next
}

// Quaternions describes an array of structures: x, y, z, w side by side as glTF
// has them, rotation after rotation, each with its limb's segments, if it has more
// than one.
func Quaternions[F float32 | float64](xyzw []F, segments int) Rotations[F] {
	if len(xyzw) < 4 {
		return Rotations[F]{Stride: 4 * segments, Segment: 4}
	}
	return Rotations[F]{X: xyzw, Y: xyzw[1:], Z: xyzw[2:], W: xyzw[3:], Stride: 4 * segments, Segment: 4}
}

// Numbers describes gonum's quaternions, rotation after rotation, each with its
// limb's segments, if it has more than one.
func Numbers(q []quat.Number, segments int) Rotations[float64] {
	return Rotations[float64](kernel.Numbers(q, segments))
}

// Planes describes a structure of arrays: a plane for each component, n rotations
// of the first segment before those of the second.
func Planes[F float32 | float64](x, y, z, w []F, n int) Rotations[F] {
	return Rotations[F]{X: x, Y: y, Z: z, W: w, Stride: 1, Segment: n}
}

// Outcome counts what is special about a batch.
type Outcome struct {
	Undefined int // rotations whose twist is undefined, see Result; it was taken as none
	Bad       int // rotations that are not finite; their segments are NaN
}

// Batch solves many rotations of one limb at a time, in float32 or float64, on
// the fastest path that the processor has; every path gives the same bits. It is
// read only: any number of goroutines may use one at a time. [NewBatch] makes it; the
// zero value is of no use.
//
// Error: 4e-15 per component in float64 and 5e-7 in float32, beyond the
// conditioning of the twist, 8 eps/Condition radians of that precision.
type Batch[F float32 | float64] struct {
	solver *Solver
	law    *kernel.Law[F]
}

// NewBatch prepares a limb's batches. It costs nothing to speak of.
func NewBatch[F float32 | float64](s *Solver) Batch[F] {
	b := Batch[F]{solver: s}
	switch law := any(&b.law).(type) {
	case **kernel.Law[float32]:
		*law = s.single
	case **kernel.Law[float64]:
		*law = s.law
	}
	return b
}

// Solve writes the segments of n rotations to dst, as [Solver.Solve] does. tips is
// not read where the limb has no tip shares. dst must not overlap the others. It
// allocates nothing; arrays that are too short for n give an error, and nothing is
// written.
func (b Batch[F]) Solve(dst, joints, tips Rotations[F], n int) (Outcome, error) {
	if err := b.check(&dst, &joints, &tips, n); err != nil {
		return Outcome{}, err
	}
	to, from, far := kernel.View[F](dst), kernel.View[F](joints), kernel.View[F](tips)
	return Outcome(b.law.Batch(&to, &from, &far, n)), nil
}

// Angles writes to dst the angles of n rotations, one rotation's segments after
// another's, as [Solver.Angles] does. Everything else is as for [Batch.Solve].
func (b Batch[F]) Angles(dst []F, joints, tips Rotations[F], n int) (Outcome, error) {
	if segments := b.solver.Segments(); len(dst)/segments < n {
		return Outcome{}, fmt.Errorf("chain: batch: dst has %d angles, expected enough for %d rotations of %d segments", len(dst), n, segments)
	}
	if err := b.checkRead(&joints, &tips, n); err != nil {
		return Outcome{}, err
	}
	from, far := kernel.View[F](joints), kernel.View[F](tips)
	return Outcome(b.law.BatchAngles(dst, &from, &far, n)), nil
}

// leastWork is how many rotations are worth a goroutine: several times the
// microsecond that starting one takes.
const leastWork = 16 * kernel.Tile

// SolveOn is [Batch.Solve] on up to so many goroutines, which it allocates for. The
// result does not depend on their number; fewer than 2 solve where they are called.
func (b Batch[F]) SolveOn(workers int, dst, joints, tips Rotations[F], n int) (Outcome, error) {
	workers = min(workers, n/leastWork)
	if workers < 2 {
		return b.Solve(dst, joints, tips, n)
	}
	return b.solveOn(workers, dst, joints, tips, n)
}

// solveOn is apart, for what goroutines share is on the heap.
func (b Batch[F]) solveOn(workers int, dst, joints, tips Rotations[F], n int) (Outcome, error) {
	if err := b.check(&dst, &joints, &tips, n); err != nil {
		return Outcome{}, err
	}
	outcomes := make([]kernel.Outcome, workers)
	parallel.On(workers, workers, func(w int) {
		first := w * n / workers / kernel.Tile * kernel.Tile
		last := n
		if w < workers-1 {
			last = (w + 1) * n / workers / kernel.Tile * kernel.Tile
		}
		to, from, far := dst.from(first), joints.from(first), kernel.View[F]{}
		if b.solver.tip != nil {
			far = tips.from(first)
		}
		outcomes[w] = b.law.Batch(&to, &from, &far, last-first)
	})
	var all Outcome
	for _, o := range outcomes {
		all.Undefined += o.Undefined
		all.Bad += o.Bad
	}
	return all, nil
}

// from is the view from a rotation on.
func (r *Rotations[F]) from(first int) kernel.View[F] {
	first *= r.Stride
	return kernel.View[F]{W: r.W[first:], X: r.X[first:], Y: r.Y[first:], Z: r.Z[first:], Stride: r.Stride, Segment: r.Segment}
}

func (b Batch[F]) check(dst, joints, tips *Rotations[F], n int) error {
	if n >= 0 {
		if err := dst.takes("dst", n, b.solver.Segments()); err != nil {
			return err
		}
	}
	return b.checkRead(joints, tips, n)
}

// checkRead checks what is read, and n.
func (b Batch[F]) checkRead(joints, tips *Rotations[F], n int) error {
	if n < 0 {
		return fmt.Errorf("chain: batch: %d rotations, expected 0 or more", n)
	}
	if err := joints.holds("joints", n, 1); err != nil || b.solver.tip == nil {
		return err
	}
	return tips.holds("tips", n, 1)
}

// takes is holds for what is written: no two rotations may lie in one place.
func (r *Rotations[F]) takes(name string, n, segments int) error {
	if n > 1 && r.Stride == 0 || n > 0 && segments > 1 && r.Segment == 0 {
		return fmt.Errorf("chain: batch: %s has stride %d and segment %d, expected steps of 1 or more", name, r.Stride, r.Segment)
	}
	return r.holds(name, n, segments)
}

// holds returns an error where there is no room for n rotations of so many segments.
func (r *Rotations[F]) holds(name string, n, segments int) error {
	if r.Stride < 0 || r.Segment < 0 {
		return fmt.Errorf("chain: batch: %s has stride %d and segment %d, expected steps of 0 or more", name, r.Stride, r.Segment)
	}
	view := kernel.View[F](*r)
	if view.Holds(n, segments) && (n == 0 || r.W != nil) {
		return nil
	}
	return fmt.Errorf("chain: batch: %s ends after %d, %d, %d and %d numbers from its first x, y, z and w on, expected enough for %d rotations of %d segments at steps of %d and %d",
		name, len(r.X), len(r.Y), len(r.Z), len(r.W), n, segments, r.Stride, r.Segment)
}
