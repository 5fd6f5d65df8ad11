package engine

import (
	"math"
	"sync/atomic"

	"github.com/pronate/pronate/chain"
)

// AimPacked aims n frames by address; see pronate_aim_f32.
func AimPacked[F float32 | float64](axis *[3]float64, dst, frames, targets *F, n uint64) (chain.Outcome, error) {
	if axis == nil {
		return chain.Outcome{}, isNull("axis")
	}
	count, err := count(n)
	if err != nil {
		return chain.Outcome{}, err
	}
	to, err := packed("dst", dst, count, 4)
	if err != nil {
		return chain.Outcome{}, err
	}
	from, err := packed("frames", frames, count, 4)
	if err != nil {
		return chain.Outcome{}, err
	}
	toward, err := packed("targets", targets, count, 3)
	if err != nil {
		return chain.Outcome{}, err
	}
	return Aim(*axis, chain.Quaternions(to, 1), chain.Quaternions(from, 1), chain.Vectors(toward), count)
}

// Aim aims n frames. It allocates nothing as long as the axis stays the same.
func Aim[F float32 | float64](axis [3]float64, dst, frames chain.Rotations[F], targets chain.Directions[F], n int) (chain.Outcome, error) {
	aim, err := aimOf[F](axis)
	if err != nil {
		return chain.Outcome{}, err
	}
	o, err := aim.Solve(dst, frames, targets, n)
	if err != nil {
		return o, BadArgument.errorf("%s", ownWords(err))
	}
	return o, nil
}

// aimed is an axis made ready.
type aimed[F float32 | float64] struct {
	axis [3]uint64 // its bits, which tell -0 from 0
	aim  chain.Aim[F]
}

// The axes asked for last: most programs have one.
var (
	lastSingle atomic.Pointer[aimed[float32]]
	lastDouble atomic.Pointer[aimed[float64]]
)

func aimOf[F float32 | float64](axis [3]float64) (chain.Aim[F], error) {
	last, ok := any(&lastSingle).(*atomic.Pointer[aimed[F]])
	if !ok {
		last = any(&lastDouble).(*atomic.Pointer[aimed[F]])
	}
	bits := [3]uint64{math.Float64bits(axis[0]), math.Float64bits(axis[1]), math.Float64bits(axis[2])}
	if l := last.Load(); l != nil && l.axis == bits {
		return l.aim, nil
	}
	aim, err := chain.NewAim[F](vector(axis))
	if err != nil {
		return aim, BadArgument.errorf("%s", ownWords(err))
	}
	last.Store(&aimed[F]{bits, aim})
	return aim, nil
}
