package player

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// one makes a document of one buffer with the given views and accessors.
func one(data []byte, views []bufferView, accessors ...accessor) *document {
	return &document{bytes: [][]byte{data}, BufferViews: views, Accessors: accessors}
}

func TestNormalisedIntegersDecodeAsSpecified(t *testing.T) {
	// glTF 2.0 specification, section 3.6.2.2 (and the table of section 3.11):
	// max(c/127, -1), c/255, max(c/32767, -1), c/65535.
	view := 0
	for _, c := range []struct {
		kind int
		data []byte
		want []float64
	}{
		{5120, pack([]int8{-128, -127, 0, 64, 127}), []float64{-1, -1, 0, 64.0 / 127, 1}},
		{5121, []byte{0, 51, 255}, []float64{0, 0.2, 1}},
		{5122, pack([]int16{-32768, -32767, 0, 32767}), []float64{-1, -1, 0, 1}},
		{5123, pack([]uint16{0, 13107, 65535}), []float64{0, 0.2, 1}},
	} {
		d := one(c.data, []bufferView{{ByteLength: len(c.data)}},
			accessor{BufferView: &view, ComponentType: c.kind, Normalized: true, Count: len(c.want), Type: "SCALAR"})
		rows, err := d.rows(0)
		require.NoError(t, err)
		for i, row := range rows {
			require.InDelta(t, c.want[i], row[0], 0, "type %d, element %d", c.kind, i)
		}
	}
}

func TestPlainIntegersStayAsTheyAre(t *testing.T) {
	view := 0
	d := one(pack([]uint32{1 << 31}), []bufferView{{ByteLength: 4}},
		accessor{BufferView: &view, ComponentType: 5125, Count: 1, Type: "SCALAR"})
	rows, err := d.rows(0)
	require.NoError(t, err)
	require.Equal(t, [][]float64{{1 << 31}}, rows)
}

func TestStrideAndSparse(t *testing.T) {
	// Two VEC2 of shorts, twelve bytes apart, behind four bytes of something
	// else; a sparse accessor over them, and one over zeros.
	data := pack([4]byte{}, [2]int16{1, 2}, [8]byte{}, [2]int16{3, 4}, uint16(1), uint16(0), [2]int16{7, 8})
	stride, view := 12, 0
	views := []bufferView{{ByteLength: 20, ByteStride: &stride}, {ByteOffset: 20, ByteLength: 4}, {ByteOffset: 24, ByteLength: 4}}
	plain := accessor{BufferView: &view, ByteOffset: 4, ComponentType: 5122, Count: 2, Type: "VEC2"}
	over := plain
	over.Sparse = &sparse{Count: 1}
	over.Sparse.Indices.BufferView, over.Sparse.Indices.ComponentType, over.Sparse.Values.BufferView = 1, 5123, 2
	zeros := over
	zeros.BufferView, zeros.ByteOffset, zeros.Count = nil, 0, 3
	outside := zeros
	outside.Count = 1
	d := one(data, views, plain, over, zeros, outside)
	for i, want := range [][][]float64{{{1, 2}, {3, 4}}, {{1, 2}, {7, 8}}, {{0, 0}, {7, 8}, {0, 0}}} {
		rows, err := d.rows(i)
		require.NoError(t, err)
		require.Equal(t, want, rows, "accessor %d", i)
	}
	_, err := d.rows(3)
	require.ErrorContains(t, err, "sparse index 1 of 1")
	_, err = d.rows(4)
	require.ErrorContains(t, err, "accessor 4 of 4")
}
