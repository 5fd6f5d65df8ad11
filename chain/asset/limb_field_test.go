package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// posedThigh is a thigh below a helper, with places as given, of a character that stands
// on it and another.
func posedThigh(t *testing.T, name string, pelvis, helper, shin [3]float64) *File {
	t.Helper()
	b := &small{}
	at := b.floats("VEC3", 3, 0, 0, 0, 0, 0.5, 0, 0, 1, 0)
	joints := b.bytes(2, 0, 0, 0, 2, 0, 0, 0, 2, 0, 0, 0)
	weights := b.floats("VEC4", 4, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0)
	return b.file(t, members{
		"nodes": []any{
			members{"name": "pelvis", "children": []any{1, 5, 6}, "translation": pelvis},
			members{"name": "helper", "children": []any{2}, "translation": helper},
			members{"name": name, "children": []any{3}},
			members{"name": "shin", "translation": shin},
			members{"mesh": 0, "skin": 0},
			members{"name": "head", "translation": []any{0, 0.6, 0}},
			members{"name": "the other thigh"},
		},
		"scenes": []any{members{"nodes": []any{0, 4}}},
		"skins":  []any{members{"joints": []any{0, 1, 2, 3, 5, 6}}},
		"meshes": []any{members{"primitives": []any{members{"mode": 0, "attributes": members{"POSITION": at, "JOINTS_0": joints, "WEIGHTS_0": weights}}}}},
	})
}

// A leg is on the side that its name says, whatever helpers stand between it and
// the pelvis and wherever the character stands; without a side in the name it is
// on that where it lies, and in the middle it has no range.
func TestSides(t *testing.T) {
	down := [3]float64{0, -0.4, 0}
	for _, c := range []struct {
		name           string
		pelvis, helper float64 // x
		out            float64 // x of Range.Out; 0 for no range
	}{
		{"thigh_r", 0, -0.1, -1}, {"thigh_r", 5, -0.1, -1}, {"thigh_r", 0, 0, -1}, {"thigh_l", -5, 0.1, 1},
		{"thigh", 0, -0.1, -1}, {"thigh", 0, 0.1, 1}, {"thigh", 3, 0.001, 0},
	} {
		f := posedThigh(t, c.name, [3]float64{c.pelvis, 1, 0}, [3]float64{c.helper, 0, 0}, down)
		infos, err := Resolve(f, []LimbSpec{{Joint: c.name, End: End{Joint: "shin"}, Range: Range{Name: RangeHip}}})
		if c.out == 0 {
			require.ErrorContains(t, err, "neither names nor places tell left from right", c)
			continue
		}
		require.NoError(t, err)
		require.InDelta(t, c.out, infos[0].Range.Out.X, 1e-12, c)
	}
}

// A thigh that rests far outside a hip's range is no person's: it keeps the
// plain field, and the split says so. Limits that are given are taken.
func TestRestOutOfRange(t *testing.T) {
	f := posedThigh(t, "thigh_l", [3]float64{0, 1, 0}, [3]float64{0.1, 0, 0}, [3]float64{0, 0.3, -0.3})
	specs := []LimbSpec{{Joint: "thigh_l", End: End{Joint: "shin"}, Range: Range{Name: RangeHip}}}
	infos, err := Resolve(f, specs)
	require.NoError(t, err)
	require.True(t, infos[0].Range.IsZero())
	require.Less(t, r3.Norm(r3.Sub(infos[0].Field.Centre(), infos[0].Field.Axis())), 1e-12)
	_, report, err := Split(f, Options{AsAsked: true, Limbs: specs})
	require.NoError(t, err)
	require.Len(t, report.Warnings, 1)
	require.Contains(t, report.Warnings[0], `limb "thigh_l": at rest the bone points`)
	require.Equal(t, "shortest", report.Limbs[0].Field)
	specs[0].Range = Range{FlexionDeg: [2]float64{-180, -60}, AbductionDeg: [2]float64{-20, 20}}
	_, report, err = Split(f, Options{AsAsked: true, Limbs: specs})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.Equal(t, "balanced", report.Limbs[0].Field)
}
