package engine

import (
	"encoding/binary"
	"hash/fnv"
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
)

// fingerprint is a hash of every number that solves and FromRest depend on, and of
// some answers in both precisions, so that a library that answers otherwise has
// another too. All of it has the same bits on every processor, and so has the hash.
func (l *Limb) fingerprint() uint64 {
	s := l.solver
	var data []byte
	put := func(numbers ...float64) {
		data = binary.LittleEndian.AppendUint64(data, uint64(len(numbers)))
		for _, x := range numbers {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(x))
		}
	}
	field, err := s.Field().MarshalBinary()
	if err != nil { // only a field that nobody made
		panic(err)
	}
	data = append(data, field...)
	own, tip := s.Shares()
	put(own...)
	put(tip...)
	axis, arc := s.Axis(), s.Field().Arc()
	put(axis.X, axis.Y, axis.Z, arc.Real, arc.Imag, arc.Jmag, arc.Kmag)
	// Where all is the identity now, what is left is how the limb rests.
	near, far := s.FromRest(chain.Pose{})
	put(oneSign(near)...)
	put(oneSign(far)...)
	for _, x := range samples[float64](l) {
		put(x)
	}
	for _, x := range samples[float32](l) {
		put(float64(x))
	}
	sum := fnv.New64a()
	_, _ = sum.Write(data) // a hash takes all
	return sum.Sum64()
}

// oneSign is q or -q, which say the same, and without a zero's sign.
func oneSign(q quat.Number) []float64 {
	out := []float64{q.Real, q.Imag, q.Jmag, q.Kmag}
	sign := 0.
	for i, x := range out {
		if sign == 0 && x != 0 {
			sign = math.Copysign(1, x)
		}
		out[i] = sign*x + 0
	}
	return out
}

// samples are answers to rotations that are spread and exact in both precisions.
func samples[F float32 | float64](l *Limb) []F {
	const n = 16
	joints, tips := make([]F, 4*n), make([]F, 4*n)
	for i := range joints {
		joints[i], tips[i] = F(i*37%64)/32-1, F(i*23%64)/32-1
	}
	dst := make([]F, 4*n*l.Segments())
	if _, err := Solve(l, chain.Quaternions(dst, l.Segments()), chain.Quaternions(joints, 1), chain.Quaternions(tips, 1), n, 1); err != nil {
		panic(err) // the arrays have room
	}
	return dst
}
