package engine

import (
	"math"
	"math/bits"
	"unsafe"

	"github.com/pronate/pronate/chain"
)

// mostNumbers is more than any array can have: no processor of today addresses
// more than 2^48 bytes of a program's own in 64 bits. What is asked for beyond is
// a mistake, and is told before memory is touched that is not there.
const mostNumbers = min(1<<45, math.MaxInt/16)

// mostPoses is how many poses fit into one.
const mostPoses = mostNumbers / 4

// Layout says where rotations lie: pronate_rotations_f32 and _f64.
type Layout[F float32 | float64] struct {
	X, Y, Z, W      *F
	Stride, Segment uint
}

func isNull(name string) error { return BadArgument.errorf("%s is null, expected an array", name) }

func noTips(name string) error {
	return BadArgument.errorf("%s is null, expected rotations of the tip: the limb has tip shares", name)
}

// count checks the number of poses or frames.
func count(n uint64) (int, error) {
	if n > mostPoses {
		return 0, BadArgument.errorf("n is %d, expected %d at most", n, uint64(mostPoses))
	}
	return int(n), nil
}

// packed is n times width numbers at p.
func packed[F float32 | float64](name string, p *F, n, width int) ([]F, error) {
	switch {
	case n == 0:
		return nil, nil
	case p == nil:
		return nil, isNull(name)
	case n > mostNumbers/width:
		return nil, BadArgument.errorf("n is %d, expected %d at most: %s takes %d numbers each", n, mostNumbers/width, name, width)
	}
	return unsafe.Slice(p, n*width), nil
}

// rotations sees a layout as chain does.
func (r *Layout[F]) rotations(name string, n, segments int) (out chain.Rotations[F], err error) {
	switch {
	case r == nil:
		return out, isNull(name)
	case n == 0:
		return out, nil
	case r.X == nil || r.Y == nil || r.Z == nil || r.W == nil:
		return out, isNull(name + r.firstNull())
	}
	numbers, ok := extent(n, r.Stride, segments, r.Segment)
	if !ok {
		return out, BadArgument.errorf("%s has stride %d and segment %d, expected steps within %d numbers in all", name, r.Stride, r.Segment, uint64(mostNumbers))
	}
	out = chain.Rotations[F]{
		X: unsafe.Slice(r.X, numbers), Y: unsafe.Slice(r.Y, numbers), Z: unsafe.Slice(r.Z, numbers), W: unsafe.Slice(r.W, numbers),
		Stride: int(r.Stride),
	}
	if segments > 1 {
		out.Segment = int(r.Segment)
	}
	return out, nil
}

// noOverlap refuses steps by which two rotations of dst would share a number: j
// steps of stride come out where i of segment do. Steps of 0 are chain's to refuse.
func noOverlap[F float32 | float64](dst *chain.Rotations[F], n, segments int) error {
	stride, segment := uint64(dst.Stride), uint64(dst.Segment)
	if n < 2 || segments < 2 || stride == 0 || segment == 0 {
		return nil
	}
	poses, parts := uint64(n-1), uint64(segments-1)
	if stride > parts*segment || segment > poses*stride { // all of the usual layouts
		return nil
	}
	common := divisor(stride, segment)
	if segment/common > poses || stride/common > parts {
		return nil
	}
	return BadArgument.errorf("dst has stride %d and segment %d, expected steps by which %d poses of %d segments do not overlap, such as a stride of %d or more", dst.Stride, dst.Segment, n, segments, parts*segment+1)
}

// divisor is the greatest that two numbers have in common; neither is 0.
func divisor(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (r *Layout[F]) firstNull() string {
	for i, p := range []*F{r.X, r.Y, r.Z, r.W} {
		if p == nil {
			return [...]string{"->x", "->y", "->z", "->w"}[i]
		}
	}
	return ""
}

// extent is how many numbers lie from the first to the last that is used. n and
// segments are 1 or more.
func extent(n int, stride uint, segments int, segment uint) (int, bool) {
	high, low := bits.Mul64(uint64(n-1), uint64(stride))
	if high != 0 || low >= mostNumbers || stride >= mostNumbers {
		return 0, false
	}
	if segments > 1 {
		high, more := bits.Mul64(uint64(segments-1), uint64(segment))
		if high != 0 || more >= mostNumbers || low+more >= mostNumbers {
			return 0, false
		}
		low += more
	}
	return int(low + 1), true
}
