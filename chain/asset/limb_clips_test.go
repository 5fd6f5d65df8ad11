package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// aboutZ are rotations about Z, which swing the leg's bone from +Y towards -X.
func aboutZ(degrees ...float64) (out []float64) {
	for _, d := range degrees {
		sin, cos := math.Sincos(d * math.Pi / 360)
		out = append(out, 0, 0, sin, cos)
	}
	return out
}

var plainScale = []any{1, 1, 1}

func swingingLeg(t *testing.T, degrees ...float64) *File {
	var times []float64
	for i := range degrees {
		times = append(times, float64(i))
	}
	return leg(t, plainScale, times, legChannel{node: 2, interpolation: "LINEAR", rotations: aboutZ(degrees...)}, legChannel{node: 3, interpolation: "LINEAR", rotations: aboutZ(make([]float64, len(degrees))...)})
}

func oneLimb(t *testing.T, f *File, change func(*LimbSpec)) LimbInfo {
	t.Helper()
	s := LimbSpec{Joint: "thigh", End: End{Joint: "shin"}}
	if change != nil {
		change(&s)
	}
	found, err := Resolve(f, []LimbSpec{s})
	require.NoError(t, err)
	return found[0]
}

// A limb of a character that does not stand as a person does has the range that its
// clips go over and the margin, asked for or not; the clip's middle is 10 degrees from
// rest.
func TestRangeOfClips(t *testing.T) {
	f := swingingLeg(t, 0, -40, 60, 0)
	left := oneLimb(t, f, nil)
	require.Equal(t, left.RangeSpec, oneLimb(t, f, func(s *LimbSpec) { s.Range.Name = RangeClips }).RangeSpec)
	require.Equal(t, [2]float64{-50 - fitMargin, 50 + fitMargin}, left.RangeSpec.FlexionDeg)
	require.Equal(t, [2]float64{-fitMargin, fitMargin}, left.RangeSpec.AbductionDeg)
	const rounding = 1e-6 // of float32 files
	require.InDeltaSlice(t, []float64{-math.Sin(10 * math.Pi / 180), math.Cos(10 * math.Pi / 180), 0}, left.RangeSpec.Frame.Down[:], rounding)
	require.InDelta(t, 0, left.RangeSpec.Frame.Forward[2], rounding)
	require.Equal(t, FieldBalanced, left.FieldName)
	require.Empty(t, left.Warnings)
	_, report, err := Split(f, Options{AsAsked: true, Limbs: []LimbSpec{left.Spec}})
	require.NoError(t, err)
	require.Empty(t, report.Excursions)
	require.Equal(t, left.RangeSpec.yaml(), report.Limbs[0].Range)
}

// The limb as it was resolved is the same limb to the bit in a file of the character that
// has other clips, after a way through a limb file.
func TestResolvedReproducesTheRange(t *testing.T) {
	f := swingingLeg(t, 0, -40, 60, 0)
	for what, change := range map[string]func(*LimbSpec){
		"clips":  func(s *LimbSpec) { s.Anchor = "pelvis" },
		"centre": func(s *LimbSpec) { s.Centre.Direction = &[3]float64{0.1, 1, 0} },
		"none":   func(s *LimbSpec) { s.Centre.Mode = CentreNone },
		"tip":    func(s *LimbSpec) { s.Twist, s.Tip = TwistTip, "shin" },
	} {
		info := oneLimb(t, f, change)
		text := Limbs{Version: LimbsVersion, Limbs: []LimbSpec{info.Resolved()}}.YAML()
		read, err := ParseLimbs("limbs.yaml", text)
		require.NoError(t, err, "%s", text)
		for _, other := range []*File{swingingLeg(t, 0, 10), swingingLeg(t, 0, 170, 0, -170)} {
			again, err := Resolve(other, read.Limbs)
			require.NoError(t, err, what)
			require.Equal(t, info.Solver.Range, again[0].Solver.Range, what)
			require.Equal(t, info.FieldName, again[0].FieldName, what)
			a, err := chain.NewSolver(info.Solver)
			require.NoError(t, err)
			b, err := chain.NewSolver(again[0].Solver)
			require.NoError(t, err)
			p, q := make([]quat.Number, a.Segments()), make([]quat.Number, b.Segments())
			for _, joint := range []quat.Number{{Real: .6, Imag: .3, Jmag: -.5, Kmag: .2}, {Real: -.1, Imag: .9, Jmag: .5, Kmag: -.7}} {
				a.Solve(p, joint, joint)
				b.Solve(q, joint, joint)
				require.Equal(t, p, q, what)
			}
		}
	}
}

// Where clips say nothing, or too much, there is no range: that is told where clips were
// asked for, or turn the bone.
func TestNoRangeOfClips(t *testing.T) {
	asked := func(s *LimbSpec) { s.Range.Name = RangeClips }
	still := swingingLeg(t, 0, 0.5)
	for _, c := range []struct {
		file   *File
		change func(*LimbSpec)
		want   string
	}{
		{still, nil, ""},
		{still, asked, "limb \"thigh\": range is clips, and no clip turns the bone"},
		{swingingLeg(t, 0, 120, 240, 355), nil, "limb \"thigh\": the clips turn the bone too far round"},
		{swingingLeg(t, 0, 120, 240, 355), asked, "limb \"thigh\": the clips turn the bone too far round"},
	} {
		info := oneLimb(t, c.file, c.change)
		require.True(t, info.Range.IsZero())
		require.Equal(t, Range{Name: RangeNone}, info.RangeSpec)
		require.Equal(t, FieldShortest, info.FieldName)
		if c.want == "" {
			require.Empty(t, info.Warnings)
			continue
		}
		require.Len(t, info.Warnings, 1)
		require.Contains(t, info.Warnings[0], c.want)
	}
	_, err := Resolve(still, []LimbSpec{{Joint: "thigh", End: End{Joint: "shin"}, Range: Range{Name: RangeClips}, Field: FieldLeastRoll}})
	require.ErrorContains(t, err, `limb "thigh": field: is least_roll, which asks for a range of motion, and range is clips, and no clip turns the bone`)
}

// Clips that go farther out of a range than its field is made for have the shortest arc,
// unless the field is asked for. That they leave the range is told either way.
func TestClipsFarOutOfRange(t *testing.T) {
	limits := Range{
		FlexionDeg: [2]float64{-30, 30}, AbductionDeg: [2]float64{-30, 30},
		Frame: RangeFrame{Down: [3]float64{0, 2, 0}, Forward: [3]float64{-1, 0, 0}, Out: [3]float64{0, 0, 1}},
	}
	given := func(s *LimbSpec) { s.Range = limits }
	near := oneLimb(t, swingingLeg(t, 0, 74), given)
	require.Equal(t, FieldBalanced, near.FieldName)
	require.Empty(t, near.Warnings)
	far := oneLimb(t, swingingLeg(t, 0, 76), given)
	require.Equal(t, FieldShortest, far.FieldName)
	require.Len(t, far.Warnings, 1)
	require.Contains(t, far.Warnings[0], `limb "thigh": clip "turn" takes the bone 46 degrees out of its range of motion, so that it bends by the shortest arc`)
	require.Equal(t, limits, far.RangeSpec)
	asked := oneLimb(t, swingingLeg(t, 0, 76), func(s *LimbSpec) { s.Range, s.Field = limits, FieldLeastRoll })
	require.Equal(t, FieldLeastRoll, asked.FieldName)
	require.Empty(t, asked.Warnings)
	_, report, err := Split(swingingLeg(t, 0, 76), Options{AsAsked: true, Limbs: []LimbSpec{far.Spec}})
	require.NoError(t, err)
	require.Len(t, report.Excursions, 1)
	require.InDelta(t, 46, report.Excursions[0].BeyondDeg, 0.01)
	require.Equal(t, FieldShortest, report.Limbs[0].Field)
	require.Len(t, report.Warnings, 1)
}

func TestWithBetween(t *testing.T) {
	require.Equal(t, []float64{3}, withBetween([]float64{3}, 5))
	require.Equal(t, []float64{0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1}, withBetween([]float64{0, 1}, 9))
	require.Equal(t, []float64{0, 0.5, 1, 3, 5}, withBetween([]float64{0, 1, 5}, 5))
	require.Equal(t, []float64{0, 1, 5}, withBetween([]float64{0, 1, 5}, 3))
	many := make([]float64, 100_000)
	for i := range many {
		many[i] = float64(i)
	}
	chosen := withBetween(many, mostDirections)
	require.Len(t, chosen, mostDirections)
	require.IsIncreasing(t, chosen)
	require.Equal(t, many[len(many)-1], chosen[len(chosen)-1])
}
