package main

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestDataComesBack(t *testing.T) {
	d := newData(50)
	folder := t.TempDir()
	require.NoError(t, d.write(folder))
	for _, p := range []precision{float64s, float32s} {
		rounded := d.rounded(p)
		for name, want := range map[string][]float64{
			"poses": rounded.flatPoses(), "targets": rounded.flatTargets(),
			"axis": {rounded.axis.X, rounded.axis.Y, rounded.axis.Z},
		} {
			bytes, err := os.ReadFile(filepath.Join(folder, name+"."+string(p)))
			require.NoError(t, err)
			require.Equal(t, want, decode(bytes, p), "%s, %s", name, p)
		}
	}
	require.NotEqual(t, d.poses, d.rounded(float32s).poses)
}

// The files' layout, on numbers whose bytes anybody can write down.
func TestEncode(t *testing.T) {
	require.Equal(t, []byte{0, 0, 0, 0, 0, 0, 0xf0, 0x3f}, encode([]float64{1}, float64s))
	require.Equal(t, []byte{0, 0, 0x80, 0x3f, 0, 0, 0, 0xc0}, encode([]float64{1, -2}, float32s))
	d := data{poses: []quat.Number{{Real: 4, Imag: 1, Jmag: 2, Kmag: 3}}, targets: []r3.Vec{{X: 5, Y: 6, Z: 7}}}
	require.Equal(t, []float64{1, 2, 3, 4}, d.flatPoses())
	require.Equal(t, []float64{5, 6, 7}, d.flatTargets())
}

func TestDataIsWhatItSays(t *testing.T) {
	d := newData(limbs)
	require.Len(t, d.poses, limbs)
	require.Len(t, d.targets, limbs)
	for i, q := range d.poses {
		require.InDelta(t, 1, quat.Abs(q), 4*eps64)
		require.LessOrEqual(t, math.Abs(r3.Norm(d.targets[i])-1.25), 0.75+4*eps64)

		along := r3.Dot(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}, d.axis)
		require.Greater(t, math.Hypot(along, q.Real), leastCondition, "twist of %d", i)
		between := r3.Add(r3.Rotation(q).Rotate(d.axis), r3.Unit(d.targets[i]))
		require.Greater(t, r3.Norm(between)/2, leastCondition, "arc of %d", i)
	}
	require.Equal(t, d, newData(limbs))
}
