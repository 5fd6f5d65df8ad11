package engine

import "math"

// The crowd of host/motion.h, once more: the formula in Go, so that the table does
// not come from the code that is held against it.
const (
	characters = 2000
	limbs      = 8
	segments   = 4
)

type swings struct{ flexion, flexionMost, side, sideMost, twistMost int32 }

type moves struct{ joint, tip swings }

var limbMoves = [limbs]moves{
	{joint: swings{400, 700, 120, 250, 400}},
	{joint: swings{400, 700, -120, 250, 400}},
	{joint: swings{350, 700, 150, 500, 600}},
	{joint: swings{350, 700, -150, 500, 600}},
	{swings{700, 650, 0, 0, 0}, swings{0, 400, 0, 150, 800}},
	{swings{700, 650, 0, 0, 0}, swings{0, 400, 0, 150, 800}},
	{swings{-600, 550, 0, 0, 0}, swings{100, 250, 0, 80, 250}},
	{swings{-600, 550, 0, 0, 0}, swings{100, 250, 0, 80, 250}},
}

func wave(phase uint32, most int32) int32 {
	x := int32(phase >> 20 & 2047)
	y := x * (2048 - x) >> 10 * most >> 10
	if phase>>31 != 0 {
		return -y
	}
	return y
}

func phaseOf(frame, limb, character uint32) uint32 {
	period := 64 + character%64
	return frame*(math.MaxUint32/period) + limb*521288629 + character*2654435769
}

// rotation is x, y, z, w.
func (s swings) rotation(phase uint32) [4]float32 {
	x := s.flexion + wave(phase, s.flexionMost)
	z := s.side + wave(2*phase, s.sideMost)
	y := wave(3*phase, s.twistMost)
	return [4]float32{float32(1024*x-z*y) * 0x1p-20, float32(1024*y) * 0x1p-20, float32(1024*z+x*y) * 0x1p-20, 1}
}

// fill is a frame's joints and tips of one limb.
func fill(frame, limb uint32) (joints, tips []float32) {
	for character := range uint32(characters) {
		phase := phaseOf(frame, limb, character)
		q, r := limbMoves[limb].joint.rotation(phase), limbMoves[limb].tip.rotation(phase-1<<30)
		joints, tips = append(joints, q[:]...), append(tips, r[:]...)
	}
	return joints, tips
}
