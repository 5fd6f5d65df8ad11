//go:build wasip1

package main

import (
	"encoding/binary"
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
)

//go:wasmexport pronate_solve_f32
func pronateSolve32(limb uint64, dst, joints, tips, n uint32) int32 {
	return solvePacked[float32](limb, dst, joints, tips, n)
}

//go:wasmexport pronate_solve_f64
func pronateSolve64(limb uint64, dst, joints, tips, n uint32) int32 {
	return solvePacked[float64](limb, dst, joints, tips, n)
}

//go:wasmexport pronate_solve_layout_f32
func pronateSolveLayout32(limb uint64, dst, joints, tips, n, outcome uint32) int32 {
	return solveLayout[float32](limb, dst, joints, tips, n, outcome)
}

//go:wasmexport pronate_solve_layout_f64
func pronateSolveLayout64(limb uint64, dst, joints, tips, n, outcome uint32) int32 {
	return solveLayout[float64](limb, dst, joints, tips, n, outcome)
}

//go:wasmexport pronate_aim_f32
func pronateAim32(axis, dst, frames, targets, n, outcome uint32) int32 {
	return aim[float32](axis, dst, frames, targets, n, outcome)
}

//go:wasmexport pronate_aim_f64
func pronateAim64(axis, dst, frames, targets, n, outcome uint32) int32 {
	return aim[float64](axis, dst, frames, targets, n, outcome)
}

func solvePacked[F float32 | float64](limb uint64, dst, joints, tips, n uint32) (status int32) {
	defer rescue(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	var to, from, far chain.Rotations[F]
	if n > 0 {
		if to, err = packed[F]("dst", dst, l.Segments()); err != nil {
			return fail(err)
		}
		if from, err = packed[F]("joints", joints, 1); err != nil {
			return fail(err)
		}
		if l.HasTip() {
			if far, err = packed[F]("tips", tips, 1); err != nil {
				return fail(err)
			}
		}
	}
	return solve(l, to, from, far, n, nil)
}

func solveLayout[F float32 | float64](limb uint64, dst, joints, tips, n, outcome uint32) (status int32) {
	defer rescue(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	var to, from, far chain.Rotations[F]
	if n > 0 {
		if to, err = rotations[F]("dst", dst); err != nil {
			return fail(err)
		}
		if from, err = rotations[F]("joints", joints); err != nil {
			return fail(err)
		}
		if l.HasTip() {
			if far, err = rotations[F]("tips", tips); err != nil {
				return fail(err)
			}
		}
	}
	counted, err := countsAt(outcome)
	if err != nil {
		return fail(err)
	}
	return solve(l, to, from, far, n, counted)
}

func solve[F float32 | float64](l *engine.Limb, dst, joints, tips chain.Rotations[F], n uint32, counted counts) int32 {
	o, err := engine.Solve(l, dst, joints, tips, int(n), 1)
	if err != nil {
		return fail(err)
	}
	counted.put(o)
	return succeed(engine.StatusOf(o), engine.Remark(o, uint64(n)))
}

func aim[F float32 | float64](axis, dst, frames, targets, n, outcome uint32) (status int32) {
	defer rescue(&status)
	along, err := blocks.bytes("axis", axis, 3*8)
	if err != nil {
		return fail(err)
	}
	number := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(along[8*i:])) }
	var to, from, toward []F
	if n > 0 {
		if to, err = numbers[F]("dst", dst); err != nil {
			return fail(err)
		}
		if from, err = numbers[F]("frames", frames); err != nil {
			return fail(err)
		}
		if toward, err = numbers[F]("targets", targets); err != nil {
			return fail(err)
		}
	}
	counted, err := countsAt(outcome)
	if err != nil {
		return fail(err)
	}
	o, err := engine.Aim([3]float64{number(0), number(1), number(2)},
		chain.Quaternions(to, 1), chain.Quaternions(from, 1), chain.Vectors(toward), int(n))
	if err != nil {
		return fail(err)
	}
	counted.put(o)
	return succeed(engine.StatusOf(o), engine.AimRemark(o, uint64(n)))
}

// counts is a pronate_outcome, or nothing where nobody asks for it.
type counts []byte

func countsAt(address uint32) (counts, error) {
	if address == 0 {
		return nil, nil
	}
	return blocks.bytes("outcome", address, 16)
}

func (c counts) put(o chain.Outcome) {
	if c == nil {
		return
	}
	binary.LittleEndian.PutUint64(c, uint64(o.Undefined))
	binary.LittleEndian.PutUint64(c[8:], uint64(o.Bad))
}
