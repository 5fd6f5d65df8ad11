//go:build !purego

package kernel

import (
	"os"
	"regexp"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/require"
)

// The assembly knows where these numbers lie, counted in numbers.
func TestAssemblyOffsets(t *testing.T) {
	t.Run("float32", func(t *testing.T) { testOffsets[float32](t, 20) })
	t.Run("float64", func(t *testing.T) { testOffsets[float64](t, 19) }) // tables start at whole 8 bytes
}

func testOffsets[F Real](t *testing.T, table uintptr) {
	size := unsafe.Sizeof(F(0))
	var s Swing[F]
	require.Equal(t, []uintptr{0, 3, 4, 7, 8, 9, 10, 14, 18, table}, []uintptr{
		unsafe.Offsetof(s.half) / size, unsafe.Offsetof(s.cos) / size, unsafe.Offsetof(s.sin) / size,
		unsafe.Offsetof(s.low) / size, unsafe.Offsetof(s.high) / size, unsafe.Offsetof(s.least) / size,
		unsafe.Offsetof(s.x) / size, unsafe.Offsetof(s.y) / size, unsafe.Offsetof(s.rest) / size,
		(unsafe.Offsetof(s.table) + unsafe.Offsetof(s.table.X)) / size,
	})
	require.Equal(t, []uintptr{0, 1, 2}, []uintptr{
		unsafe.Offsetof(s.table.X) / size, unsafe.Offsetof(s.table.Y) / size, unsafe.Offsetof(s.table.PerStep) / size,
	})
	var two tile[F]
	require.Equal(t, []uintptr{0, Tile, 2 * Tile, 3 * Tile}, []uintptr{
		unsafe.Offsetof(two.own.half) / size, unsafe.Offsetof(two.own.sin) / size,
		unsafe.Offsetof(two.own.cos) / size, unsafe.Offsetof(two.far) / size,
	})
	var answers aims[F]
	require.Equal(t, []uintptr{0, Tile, 2 * Tile, 3 * Tile, 4 * Tile}, []uintptr{
		unsafe.Offsetof(answers.w) / size, unsafe.Offsetof(answers.x) / size, unsafe.Offsetof(answers.y) / size,
		unsafe.Offsetof(answers.z) / size, unsafe.Offsetof(answers.r2) / size,
	})
	var view lanes[F]
	require.Equal(t, []uintptr{0, 8, 16, 24, 32, 40}, []uintptr{
		unsafe.Offsetof(view.w), unsafe.Offsetof(view.x), unsafe.Offsetof(view.y),
		unsafe.Offsetof(view.z), unsafe.Offsetof(view.step), unsafe.Offsetof(view.order),
	})
	var one share[F]
	require.Equal(t, []uintptr{0, 1, 2, 3}, []uintptr{
		unsafe.Offsetof(one.own) / size, unsafe.Offsetof(one.tip) / size, unsafe.Offsetof(one.kind) / size, unsafe.Sizeof(one) / size,
	})
	var aim Aim[F]
	require.Equal(t, []uintptr{0, 3, 4, 5}, []uintptr{
		unsafe.Offsetof(aim.axis) / size, unsafe.Offsetof(aim.low) / size, unsafe.Offsetof(aim.high) / size, unsafe.Offsetof(aim.least) / size,
	})
}

// The generator's allocator of registers knows 32 of them; only AVX-512 does too.
func TestAssemblyIsAVX2(t *testing.T) {
	source, err := os.ReadFile("fast_amd64.s")
	require.NoError(t, err)
	require.NotEmpty(t, regexp.MustCompile(`\bY15\b|\bY1\b`).Find(source))
	require.Empty(t, string(regexp.MustCompile(`\b([XY](1[6-9]|[23][0-9])|Z[0-9]+|K[0-7])\b|VFN?M`).Find(source)))
}
