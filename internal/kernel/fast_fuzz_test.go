package kernel

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"testing"
	"unsafe"
)

func FuzzFast(f *testing.F) {
	if !HasFast() {
		f.Skip("this build or this processor has no AVX2 code to compare")
	}
	random := rand.New(rand.NewPCG(3, 4))
	for range 20 {
		data := make([]byte, 32*(1+random.IntN(20)))
		for i := range data {
			data[i] = byte(random.Uint32())
		}
		f.Add(data, uint8(random.Uint32()), uint8(random.Uint32()))
	}
	var ones []byte
	for range 40 {
		ones = binary.LittleEndian.AppendUint64(ones, math.Float64bits(1))
	}
	f.Add(ones, uint8(0), uint8(0))
	f.Fuzz(func(t *testing.T, data []byte, which, field uint8) {
		needFast(t)
		fuzzFast[float32](t, data, which, field)
		fuzzFast[float64](t, data, which, field)
	})
}

// fuzzFast reads rotations off the bytes, whatever bits they are.
func fuzzFast[F Real](t *testing.T, data []byte, which, field uint8) {
	size := int(unsafe.Sizeof(F(0)))
	n := min(len(data)/(4*size), 200)
	if n == 0 {
		return
	}
	joints := make([][4]F, n)
	for i := range joints {
		for j := range joints[i] {
			b := data[(4*i+j)*size:]
			if isSingle[F]() {
				joints[i][j] = F(math.Float32frombits(binary.LittleEndian.Uint32(b)))
			} else {
				joints[i][j] = F(math.Float64frombits(binary.LittleEndian.Uint64(b)))
			}
		}
	}
	tips := make([][4]F, n)
	for i := range tips {
		tips[i] = joints[n-1-i]
	}
	name := []string{"plain", "centred", "best"}[field%3]
	law := NewLaw[F](fastAxis, everyOwn, everyTip, fastFields()[name], plainField(fastAxis))
	from, to := layouts[int(which)%len(layouts)], layouts[int(which/8)%len(layouts)]
	requireSameBits(t, law, from, to, joints, tips)
	requireSameAims(t, from, to, int(field/3)%4, joints, tips)
}
