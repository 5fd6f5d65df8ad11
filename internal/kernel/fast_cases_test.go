package kernel

import (
	"math"
	"math/rand/v2"
)

// layout places rotations in a buffer. Between them lie numbers that nobody
// must touch.
type layout struct {
	name  string
	order order
	gap   int  // numbers between one limb and the next
	apart bool // each segment has an area of its own
}

var layouts = []layout{
	{"planes", planes, 0, true},
	{"wxyz", wxyz, 0, false},
	{"xyzw", xyzw, 0, false},
	{"wxyz with gaps", wxyz, 3, false},
	{"xyzw with gaps", xyzw, 1, false},
	{"wxyz by segments", wxyz, 0, true},
	{"xyzw by segments with gaps", xyzw, 5, true},
	{"planes of limbs", apart, 0, false},
}

// place makes a buffer full of a guard value, and a view of it.
func place[F Real](l layout, n, segments int) ([]F, *View[F]) {
	const guard = 5
	plane := n*segments + guard
	step, segment := 4*segments+l.gap, 4
	if l.apart {
		step, segment = 4+l.gap, n*(4+l.gap)+guard
	}
	s := make([]F, max(4*plane+4*guard*segments, n*step+segments*segment)+2*guard)
	for i := range s {
		s[i] = F(1000 + i)
	}
	at := s[guard:]
	switch l.order {
	case wxyz:
		return s, &View[F]{W: at, X: at[1:], Y: at[2:], Z: at[3:], Stride: step, Segment: segment}
	case xyzw:
		return s, &View[F]{X: at, Y: at[1:], Z: at[2:], W: at[3:], Stride: step, Segment: segment}
	case planes:
		return s, &View[F]{W: at, X: at[plane:], Y: at[2*plane:], Z: at[3*plane:], Stride: 1, Segment: n}
	}
	return s, &View[F]{W: at, X: at[plane:], Y: at[2*plane:], Z: at[3*plane:], Stride: segments, Segment: 1}
}

func (v *View[F]) at(i int) (w, x, y, z F) {
	i *= v.Stride
	return v.W[i], v.X[i], v.Y[i], v.Z[i]
}

func (v *View[F]) put(i int, q [4]F) {
	i *= v.Stride
	v.W[i], v.X[i], v.Y[i], v.Z[i] = q[0], q[1], q[2], q[3]
}

// specials are components, and whole rotations, that ordinary ones may sit beside.
func specials[F Real]() (numbers []F, rotations [][4]F) {
	smallest, largest, tiny, huge := F(0x1p-149), F(0x1p127), F(1e-25), F(1e25)
	if !isSingle[F]() {
		wide := []float64{0x1p-1074, 0x1p1023, 1e-200, 1e200}
		smallest, largest, tiny, huge = F(wide[0]), F(wide[1]), F(wide[2]), F(wide[3])
	}
	minus := F(math.Copysign(0, -1))
	numbers = []F{0, minus, 1, -1, 0.5, smallest, -smallest, largest, -largest,
		tiny, huge, F(math.NaN()), F(math.Inf(1)), F(math.Inf(-1)), 0x1p-30, 0x1p29, 1e-7, 1e-16}
	x, y, z := F(fastAxis.X), F(fastAxis.Y), F(fastAxis.Z)
	rotations = [][4]F{
		{1, 0, 0, 0}, {-1, 0, 0, 0}, {1, minus, minus, minus}, {-1, minus, 0, minus},
		{0, x, y, z}, {minus, x, y, z}, {0, -x, -y, -z}, {minus, -x, -y, -z}, // half turns of twist
		{0, 0, 0, 0}, {minus, minus, minus, minus},
		{0, y, -x, 0}, {minus, 0, z, -y}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}, // half turns of swing
		{smallest, x, y, z}, {-smallest, x, y, z}, {1e-7, x, y, z}, {-1e-7, x, y, z},
		{tiny, tiny * x, 0, tiny * z}, {huge, huge * x, 0, huge * z},
	}
	return numbers, rotations
}

// rotations are random ones of any length, every so many of them special.
func rotations[F Real](random *rand.Rand, n, every int) [][4]F {
	numbers, whole := specials[F]()
	out := make([][4]F, n)
	for i := range out {
		q := &out[i]
		for j := range q {
			q[j] = F(random.NormFloat64())
		}
		if every == 0 || random.IntN(every) > 0 {
			continue
		}
		if random.IntN(2) == 0 {
			*q = whole[random.IntN(len(whole))]
			continue
		}
		for j := range q {
			if random.IntN(2) == 0 {
				q[j] = numbers[random.IntN(len(numbers))]
			}
		}
	}
	return out
}
