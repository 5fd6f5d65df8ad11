package kernel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// needFast skips what there is no assembly for, and makes sure that it is on.
func needFast(tb testing.TB) {
	tb.Helper()
	if !HasFast() {
		tb.Skip("this build or this processor has no AVX2 code to compare")
	}
	was := UseFast(true)
	tb.Cleanup(func() { UseFast(was) })
}

var fastAxis = r3.Unit(r3.Vec{X: 1, Y: -2, Z: 3})

// fastFields are the kinds of field that twists differ by.
var fastFields = sync.OnceValue(func() map[string]*swing.Field {
	centred, err := swing.NewField(fastAxis, r3.Add(fastAxis, r3.Vec{X: 0.4, Z: -1}))
	if err != nil {
		panic(err)
	}
	region, err := swing.Cap(fastAxis, 2)
	if err != nil {
		panic(err)
	}
	best, err := swing.LeastRoll(fastAxis, r3.Add(fastAxis, r3.Vec{X: 0.3}), region, 12)
	if err != nil {
		panic(err)
	}
	return map[string]*swing.Field{"plain": plainField(fastAxis), "centred": centred, "best": best}
})

// The shares have segments of every kind.
var (
	everyOwn = []float64{-1, -0.6, 0, -0.3, 0, 0, -1}
	everyTip = []float64{0, 0.4, 1, 0, 0.7, 0, 1}
)

// requireSameBits solves in either way and compares all that was in reach.
func requireSameBits[F Real](tb testing.TB, law *Law[F], from, to layout, joints, tips [][4]F) {
	tb.Helper()
	n := len(joints)
	_, in := place[F](from, n, 1)
	_, far := place[F](from, n, 1)
	for i := range n {
		in.put(i, joints[i])
		far.put(i, tips[i])
	}
	var dst [2][]F
	var outcome [2]Outcome
	angles := [2][]F{make([]F, n*law.Segments()), make([]F, n*law.Segments())}
	for way, on := range []bool{false, true} {
		UseFast(on)
		buffer, view := place[F](to, n, law.Segments())
		dst[way] = buffer
		outcome[way] = law.Batch(view, in, far, n)
		require.Equal(tb, outcome[way], law.BatchAngles(angles[way], in, far, n))
	}
	require.Equal(tb, outcome[0], outcome[1], "n = %d, %s to %s", n, from.name, to.name)
	requireBits(tb, dst[0], dst[1], "rotations, n = %d, %s to %s", n, from.name, to.name)
	requireBits(tb, angles[0], angles[1], "angles, n = %d, %s", n, from.name)
}

func requireBits[F Real](tb testing.TB, want, got []F, format string, args ...any) {
	tb.Helper()
	for i := range want {
		if bitsOf(want[i]) != bitsOf(got[i]) {
			require.Failf(tb, "bits differ", "%s: element %d is %v (%x), the plain pass has %v (%x)",
				fmt.Sprintf(format, args...), i, got[i], bitsOf(got[i]), want[i], bitsOf(want[i]))
		}
	}
}

func bitsOf[F Real](x F) uint64 {
	if isSingle[F]() {
		return uint64(math.Float32bits(float32(x)))
	}
	return math.Float64bits(float64(x))
}

func TestFastHasThePlainBits(t *testing.T) {
	t.Run("float32", testFast[float32])
	t.Run("float64", testFast[float64])
}

func testFast[F Real](t *testing.T) {
	needFast(t)
	for name, field := range fastFields() {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(7, 8))
			every := NewLaw[F](fastAxis, everyOwn, everyTip, field, plainField(fastAxis))
			roots := NewLaw[F](fastAxis, thirds, nil, field, plainField(fastAxis))
			for n := 1; n <= 130; n++ {
				for i, to := range layouts {
					from := layouts[(i+n)%len(layouts)]
					joints, tips := rotations[F](random, n, n%4*3), rotations[F](random, n, n%3*5)
					requireSameBits(t, every, from, to, joints, tips)
					requireSameBits(t, roots, from, to, joints, tips)
				}
			}
			for _, rarity := range []int{0, 9} {
				joints, tips := rotations[F](random, 20000, rarity), rotations[F](random, 20000, rarity)
				requireSameBits(t, every, layouts[1], layouts[2], joints, tips)
			}
		})
	}
}

// Near half a turn of twist, where shares wrap and cosines come to 0.
func TestFastNextToHalfTurns(t *testing.T) {
	t.Run("float32", testFastNextToHalfTurns[float32])
	t.Run("float64", testFastNextToHalfTurns[float64])
}

func testFastNextToHalfTurns[F Real](t *testing.T) {
	needFast(t)
	random := rand.New(rand.NewPCG(9, 10))
	turn := func() [4]F {
		angle := math.Pi/2 + math.Copysign(math.Exp(-40*random.Float64()), random.Float64()-0.5)
		sin, cos := math.Sincos(angle)
		if random.IntN(2) == 0 {
			sin = -sin
		}
		return [4]F{F(cos), F(sin * fastAxis.X), F(sin * fastAxis.Y), F(sin * fastAxis.Z)}
	}
	for name, field := range fastFields() {
		t.Run(name, func(t *testing.T) {
			law := NewLaw[F](fastAxis, everyOwn, everyTip, field, plainField(fastAxis))
			joints, tips := make([][4]F, 20000), make([][4]F, 20000)
			for i := range joints {
				joints[i], tips[i] = turn(), turn()
			}
			requireSameBits(t, law, layouts[2], layouts[1], joints, tips)
		})
	}
}

// The rotations that want care are the same, and so is what is left of the others.
func TestFastTwists(t *testing.T) {
	t.Run("float32", testFastTwists[float32])
	t.Run("float64", testFastTwists[float64])
}

func testFastTwists[F Real](t *testing.T) {
	needFast(t)
	random := rand.New(rand.NewPCG(15, 16))
	for name, field := range fastFields() {
		swing := NewSwing[F](field)
		for range 2000 {
			n := 8 + random.IntN(Tile-7)
			joints := rotations[F](random, n, 6)
			for i := range joints { // next to where the limits are
				if random.IntN(8) == 0 {
					scale := F(math.Sqrt(float64([]F{swing.low, swing.high}[random.IntN(2)]))) / 2
					joints[i] = [4]F{scale, scale, scale * (1 + F(random.IntN(3)-1)*0x1p-23), -scale}
				}
			}
			_, in := place[F](layouts[1+random.IntN(2)], n, 1)
			for i := range joints {
				in.put(i, joints[i])
			}
			var want, got turns[F]
			var lanes lanes[F]
			lanes.rotations(in)
			odd := swing.plainTwists(&want, &lanes, 0, 0, n)
			fastOdd, done := swing.fastTwists(&got, &lanes, 0, n)
			require.Equal(t, n, done)
			require.Equal(t, odd, fastOdd, name)
			for i := range n {
				if odd>>i&1 == 0 {
					requireBits(t, []F{want.half[i], want.sin[i], want.cos[i]}, []F{got.half[i], got.sin[i], got.cos[i]}, "%s, %v", name, joints[i])
				}
			}
		}
	}
}

func TestFastAllocatesNothing(t *testing.T) {
	needFast(t)
	joints := rotations[float64](rand.New(rand.NewPCG(1, 1)), 100, 9)
	law := NewLaw[float64](fastAxis, everyOwn, everyTip, fastFields()["best"], plainField(fastAxis))
	_, in := place[float64](layouts[1], len(joints), 1)
	for i := range joints {
		in.put(i, joints[i])
	}
	_, dst := place[float64](layouts[2], len(joints), law.Segments())
	require.Zero(t, testing.AllocsPerRun(10, func() { law.Batch(dst, in, in, len(joints)) }))
}
