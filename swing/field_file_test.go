package swing_test

import (
	"encoding/binary"
	"hash/crc32"
	"math"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
)

func marshal(t testing.TB, f *swing.Field) []byte {
	t.Helper()
	data, err := f.MarshalBinary()
	require.NoError(t, err)
	return data
}

// sealed is data with its last four bytes made its checksum: what is wrong with
// it is then not that.
func sealed(data []byte) []byte {
	body := append([]byte(nil), data[:max(0, len(data)-4)]...)
	return binary.LittleEndian.AppendUint32(body, crc32.ChecksumIEEE(body))
}

// smallBest is a best field with a small file.
func smallBest(t testing.TB) *swing.Field {
	t.Helper()
	return mustField(t)(swing.LeastRoll(down, hipCentre, mustRegion(t)(swing.Cap(hanging(1, 0), 0.5)), 4))
}

// TestFieldFile: what comes back is the same to the last bit.
func TestFieldFile(t *testing.T) {
	for name, f := range threeFields(t) {
		data := marshal(t, f)
		t.Logf("%s: %d bytes", name, len(data))
		got := smallBest(t) // nothing of it stays
		require.NoError(t, got.UnmarshalBinary(data))
		require.Equal(t, data, marshal(t, got))
		require.Equal(t, f.Axis(), got.Axis())
		require.Equal(t, f.Arc(), got.Arc())
		require.Equal(t, f.IsCorrected(), got.IsCorrected())
		for i := range 1000 {
			d := polar(float64(i)/1000*math.Pi, 1.7*float64(i))
			want, determined := f.Swing(d)
			s, also := got.Swing(d)
			require.Equal(t, want, s)
			require.Equal(t, determined, also)
		}
	}
	_, err := new(swing.Field).MarshalBinary()
	require.ErrorContains(t, err, "expected one made by NewField or LeastRoll")
}

// TestFieldFileDamaged: whatever is cut off or changed is refused, and the
// field stays what it was.
func TestFieldFileDamaged(t *testing.T) {
	f := mustField(t)(hip())
	before := marshal(t, f)
	refused := func(data []byte, about ...any) {
		if f.UnmarshalBinary(data) == nil {
			require.Fail(t, "accepted", about...)
		}
	}
	for _, data := range [][]byte{marshal(t, smallBest(t)), marshal(t, mustField(t)(swing.NewField(down, hipCentre)))} {
		for n := range data {
			refused(data[:n], "cut to %d", n)
			refused(sealed(data[:n]), "cut to %d and sealed", n)
			for _, flip := range []byte{0x01, 0x80, 0xff} {
				data[n] ^= flip
				refused(data, "byte %d flipped by %x", n, flip)
				data[n] ^= flip
			}
		}
		refused(append(data, 0), "a byte more")
		refused(sealed(append(data, 0)), "a byte more, sealed")
		require.Equal(t, before, marshal(t, f))
		require.NoError(t, new(swing.Field).UnmarshalBinary(data))
	}
}

// TestFieldFileWrong: files that are whole and say what no field says.
func TestFieldFileWrong(t *testing.T) {
	// Where things are in the file.
	const version, axis, centre, across, corner, step, cells, coefficients = 4, 5, 29, 53, 77, 93, 101, 105
	float := func(at int, x float64) func([]byte) {
		return func(data []byte) { binary.LittleEndian.PutUint64(data[at:], math.Float64bits(x)) }
	}
	coefficient := func(i int, x float32) func([]byte) {
		return func(data []byte) { binary.LittleEndian.PutUint32(data[coefficients+4*i:], math.Float32bits(x)) }
	}
	corrected, plain := marshal(t, smallBest(t)), marshal(t, mustField(t)(swing.NewField(down, down)))
	stride := int(binary.LittleEndian.Uint16(corrected[cells:])) + 3
	inner := 5*stride + 5
	for _, c := range []struct {
		name   string
		data   []byte
		change func([]byte)
		want   string
	}{
		{"version", plain, func(data []byte) { data[version] = 2 }, "version 2, expected 1"},
		{"long axis", plain, float(axis+8, -2), "no field file"},
		{"NaN in the axis", plain, float(axis, nan), "no field file"},
		{"centre opposite the axis", plain, float(centre+8, 1), "no field file"},
		{"the plane's x along the centre", plain, func(data []byte) { copy(data[across:corner], data[centre:across]) }, "no field file"},
		{"a corner without a correction", plain, float(corner, 1), "no field file"},
		{"a side without a correction", plain, float(step, math.Copysign(0, -1)), "no field file"},
		{"no side", corrected, float(step, 0), "no field file"},
		{"infinite side", corrected, float(step, inf), "no field file"},
		{"NaN corner", corrected, float(corner, nan), "no field file"},
		{"cells that do not add up", corrected, func(data []byte) { data[cells]++ }, "no field file"},
		{"no cells one way", corrected, func(data []byte) { data[cells] = 0 }, "no field file"},
		{"past three quarters of a turn", corrected, coefficient(inner, 4.72), "no field file"},
		{"NaN", corrected, coefficient(inner, float32(nan)), "no field file"},
		{"not level at the edge", corrected, coefficient(inner-3, 0.1), "no field file"},
	} {
		data := append([]byte(nil), c.data...)
		require.NoError(t, new(swing.Field).UnmarshalBinary(sealed(data)), c.name)
		c.change(data)
		require.ErrorContains(t, new(swing.Field).UnmarshalBinary(sealed(data)), c.want, c.name)
	}
}

// FuzzField: no bytes make it panic, and what it accepts it would write.
func FuzzField(f *testing.F) {
	for _, field := range threeFields(f) {
		f.Add(marshal(f, field))
	}
	f.Add(marshal(f, smallBest(f)))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, data := range [][]byte{data, sealed(data)} {
			var field swing.Field
			if field.UnmarshalBinary(data) != nil {
				require.Equal(t, swing.Field{}, field)
				continue
			}
			require.Equal(t, data, marshal(t, &field))
			s, determined := field.Swing(field.Axis())
			require.True(t, determined)
			require.Equal(t, one, s)
		}
	})
}
