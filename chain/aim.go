package chain

import (
	"fmt"

	"github.com/pronate/pronate/internal/kernel"
	"gonum.org/v1/gonum/spatial/r3"
)

// Directions says where directions lie in memory, as [Rotations] does.
type Directions[F float32 | float64] struct {
	X, Y, Z []F
	Stride  int // elements from one direction to the next
}

// Vectors describes x, y, z side by side, direction after direction.
func Vectors[F float32 | float64](xyz []F) Directions[F] {
	if len(xyz) < 3 {
		return Directions[F]{Stride: 3}
	}
	return Directions[F]{X: xyz, Y: xyz[1:], Z: xyz[2:], Stride: 3}
}

// Aim turns many frames so that their axis points along a target each: the
// smallest rotation that does, as [swing.Aim] gives one. It is read only: any number
// of goroutines may use one at a time. [NewAim] makes it; the zero value is of no use.
//
// Error: 8 roundings (2^-53 in float64, 2^-24 in float32) per component over the
// cosine of half the arc, which is the arc's own conditioning; next to half a turn
// it is swing.Aim's.
type Aim[F float32 | float64] struct{ kernel *kernel.Aim[F] }

// NewAim prepares an axis, a direction in the frames of any finite non-zero length.
func NewAim[F float32 | float64](axis r3.Vec) (Aim[F], error) {
	unit, err := (&Limb{}).unit("axis", axis)
	if err != nil {
		return Aim[F]{}, fmt.Errorf("chain: aim: axis is [%g, %g, %g], expected a finite direction of non-zero length", axis.X, axis.Y, axis.Z)
	}
	return Aim[F]{kernel.NewAim[F](unit)}, nil
}

// Solve aims n frames, rotations into the world of any length, at targets in the
// world. dst may be frames, and must not overlap them or targets otherwise.
// Undefined counts those that have no one answer, which get the one [swing.Aim]
// documents. It allocates nothing; arrays that are too short give an error, and
// nothing is written.
func (a Aim[F]) Solve(dst, frames Rotations[F], targets Directions[F], n int) (Outcome, error) {
	if n < 0 {
		return Outcome{}, fmt.Errorf("chain: aim: %d frames, expected 0 or more", n)
	}
	if err := dst.takes("dst", n, 1); err != nil {
		return Outcome{}, err
	}
	if err := frames.holds("frames", n, 1); err != nil {
		return Outcome{}, err
	}
	if targets.Stride < 0 {
		return Outcome{}, fmt.Errorf("chain: aim: targets has stride %d, expected a step of 0 or more", targets.Stride)
	}
	toward := kernel.View[F]{X: targets.X, Y: targets.Y, Z: targets.Z, Stride: targets.Stride}
	if !toward.Holds(n, 1) {
		return Outcome{}, fmt.Errorf("chain: aim: targets ends after %d, %d and %d numbers from its first x, y and z on, expected enough for %d directions at steps of %d",
			len(targets.X), len(targets.Y), len(targets.Z), n, targets.Stride)
	}
	to, from := kernel.View[F](dst), kernel.View[F](frames)
	return Outcome(a.kernel.Batch(&to, &from, &toward, n)), nil
}
