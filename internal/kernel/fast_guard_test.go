//go:build linux && amd64

package kernel

import (
	"math/rand/v2"
	"syscall"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/require"
)

// between gives n numbers between pages that must not be touched, flush with the
// first or with the last of them.
func between[F Real](t *testing.T, n int, atEnd bool) []F {
	page := syscall.Getpagesize()
	size := n * int(unsafe.Sizeof(F(0)))
	room := (size + page - 1) / page * page
	memory, err := syscall.Mmap(-1, 0, room+2*page, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_ANON|syscall.MAP_PRIVATE)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, syscall.Munmap(memory)) })
	require.NoError(t, syscall.Mprotect(memory[:page], syscall.PROT_NONE))
	require.NoError(t, syscall.Mprotect(memory[page+room:], syscall.PROT_NONE))
	start := page
	if atEnd {
		start = page + room - size
	}
	return unsafe.Slice((*F)(unsafe.Pointer(&memory[start])), n)
}

// What lies beside the views is not even read: a read would end the test.
func TestFastReadsNothingBeside(t *testing.T) {
	needFast(t)
	t.Run("float32", testBeside[float32])
	t.Run("float64", testBeside[float64])
}

func testBeside[F Real](t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	const segments = 4
	law := NewLaw[F](fastAxis, thirds, nil, fastFields()["best"], plainField(fastAxis))
	law.swing.table.Coef = append(between[float32](t, len(law.swing.table.Coef), true)[:0], law.swing.table.Coef...)
	aim := NewAim[F](fastAxis)
	for _, n := range []int{4, 8, 16, 24, 61} {
		for _, atEnd := range []bool{false, true} {
			joints, out := between[F](t, 4*n, atEnd), between[F](t, 4*segments*n, atEnd)
			directions := between[F](t, 3*n, atEnd)
			for i := range joints {
				joints[i] = F(random.NormFloat64())
			}
			for i := range directions {
				directions[i] = F(random.NormFloat64())
			}
			law.Batch(quads(out, segments), quads(joints, 1), nil, n)
			aim.Batch(quads(out[:4*n], 1), quads(joints, 1), &View[F]{X: directions, Y: directions[1:], Z: directions[2:], Stride: 3}, n)
			require.NotZero(t, out[0])
			plane := func(s []F, i int) []F { return s[i*len(s)/4:] }
			planar := View[F]{W: plane(joints, 0), X: plane(joints, 1), Y: plane(joints, 2), Z: plane(joints, 3), Stride: 1}
			result := View[F]{W: plane(out, 0), X: plane(out, 1), Y: plane(out, 2), Z: plane(out, 3), Stride: 1, Segment: n}
			law.Batch(&result, &planar, nil, n)
		}
	}
}
