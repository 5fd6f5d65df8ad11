//go:build wasip1

package main

import "github.com/pronate/pronate/chain"

// A layout is what pronate_rotations_f32 and _f64 are in 32 bits: the addresses of
// x, y, z and w, the stride and the segment.
const layoutWords = 6

// rotations reads a layout. It may reach from its addresses to the ends of their
// blocks; chain sees to it that n rotations do not go beyond. How the segments lie
// it says itself.
func rotations[F float32 | float64](name string, address uint32, _ int) (out chain.Rotations[F], err error) {
	words, err := numbers[uint32](name, address)
	if err != nil {
		return out, err
	}
	if len(words) < layoutWords {
		return out, badArgument("%s is %d bytes at %d, expected %d", name, 4*len(words), address, 4*layoutWords)
	}
	for i, to := range [...]*[]F{&out.X, &out.Y, &out.Z, &out.W} {
		if *to, err = numbers[F]("xyzw"[i:i+1], words[i]); err != nil {
			return out, badArgument("%s->%s", name, err)
		}
	}
	out.Stride, out.Segment = int(words[4]), int(words[5])
	return out, nil
}

// packed is rotations side by side.
func packed[F float32 | float64](name string, address uint32, segments int) (chain.Rotations[F], error) {
	xyzw, err := numbers[F](name, address)
	return chain.Quaternions(xyzw, segments), err
}
