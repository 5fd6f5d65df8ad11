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
	return solve(limb, dst, joints, tips, n, 0, packed[float32])
}

//go:wasmexport pronate_solve_f64
func pronateSolve64(limb uint64, dst, joints, tips, n uint32) int32 {
	return solve(limb, dst, joints, tips, n, 0, packed[float64])
}

//go:wasmexport pronate_solve_layout_f32
func pronateSolveLayout32(limb uint64, dst, joints, tips, n, outcome uint32) int32 {
	return solve(limb, dst, joints, tips, n, outcome, rotations[float32])
}

//go:wasmexport pronate_solve_layout_f64
func pronateSolveLayout64(limb uint64, dst, joints, tips, n, outcome uint32) int32 {
	return solve(limb, dst, joints, tips, n, outcome, rotations[float64])
}

//go:wasmexport pronate_aim_f32
func pronateAim32(axis, dst, frames, targets, n, outcome uint32) int32 {
	return aim[float32](axis, dst, frames, targets, n, outcome)
}

//go:wasmexport pronate_aim_f64
func pronateAim64(axis, dst, frames, targets, n, outcome uint32) int32 {
	return aim[float64](axis, dst, frames, targets, n, outcome)
}

// reader finds the rotations, of so many segments, that an argument tells of.
type reader[F float32 | float64] func(name string, address uint32, segments int) (chain.Rotations[F], error)

func solve[F float32 | float64](limb uint64, dst, joints, tips, n, outcome uint32, read reader[F]) (status int32) {
	defer rescue(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	var to, from, far chain.Rotations[F]
	if n > 0 {
		if to, err = read("dst", dst, l.Segments()); err != nil {
			return fail(err)
		}
		if from, err = read("joints", joints, 1); err != nil {
			return fail(err)
		}
		if l.HasTip() {
			if far, err = read("tips", tips, 1); err != nil {
				return fail(err)
			}
		}
	}
	counted, err := countsAt(outcome)
	if err != nil {
		return fail(err)
	}
	o, err := engine.Solve(l, to, from, far, int(n), 1)
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
