package asset

import (
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// What Resolve tells of a limb makes the solver that Split bakes with, to the bit.
func TestResolvedSolverIsTheSplits(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	random := rand.New(rand.NewPCG(7, 11))
	turn := func() quat.Number {
		return quat.Number{Real: random.NormFloat64(), Imag: random.NormFloat64(), Jmag: random.NormFloat64(), Kmag: random.NormFloat64()}
	}
	for name, o := range map[string]fixture.Options{
		"plain": {}, "odd": {Axes: fixture.Odd, Posed: true}, "mirrored": {Mirrored: true, Axes: fixture.Odd, Matrices: true},
		"root": {RootScale: 0.01, RootTurned: true, Axes: fixture.Level},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		f, err := Decode(character.Name, character.Data, character.FS())
		require.NoError(t, err)
		detected, err := Detect(f)
		require.NoError(t, err)
		detected.Limbs[0].Segments, detected.Limbs[0].Shares.Ramp = 5, SharesSmooth
		options, err := Options{AsAsked: true, Limbs: detected.Limbs}.checked(f)
		require.NoError(t, err)
		split, err := newSplitter(f, options)
		require.NoError(t, err)
		infos, err := Resolve(f, detected.Limbs)
		require.NoError(t, err)
		require.Len(t, infos, len(split.limbs))
		mirrored := 0
		for i, info := range infos {
			want := split.limbs[i].solver
			got, err := chain.NewSolver(info.Solver)
			require.NoError(t, err, name)
			require.Equal(t, want.Axis(), got.Axis())
			require.Equal(t, want.Range(), got.Range())
			wantField, err := want.Field().MarshalBinary()
			require.NoError(t, err)
			gotField, err := got.Field().MarshalBinary()
			require.NoError(t, err)
			require.Equal(t, wantField, gotField, info.Spec.Name)
			a, b := make([]quat.Number, want.Segments()), make([]quat.Number, got.Segments())
			for range 50 {
				joint, tip := turn(), turn()
				require.Equal(t, want.Solve(a, joint, tip), got.Solve(b, joint, tip), info.Spec.Name)
				require.Equal(t, a, b, info.Spec.Name)
			}
			require.Equal(t, f.parent[info.Joint], info.Anchor)
			require.Equal(t, split.limbs[i].sense, info.Sense)
			if info.Sense < 0 {
				mirrored++
			}
		}
		require.Equal(t, o.Mirrored, mirrored > 0, name)
	}
}

// What is in use is told in a limb file's words, and gives the same limb when it is
// asked for.
func TestResolvedLimbInWords(t *testing.T) {
	character, err := fixture.Build(fixture.Options{})
	require.NoError(t, err)
	f, err := Decode(character.Name, character.Data, character.FS())
	require.NoError(t, err)
	limits := Range{FlexionDeg: [2]float64{-20, 100}, AbductionDeg: [2]float64{-25, 40}}
	thigh := LimbSpec{Joint: "thigh_l", End: End{Joint: "shin_l"}}
	for _, c := range []struct {
		change func(*LimbSpec)
		motion Range
		field  string
	}{
		{func(*LimbSpec) {}, Range{Name: RangeHip}, FieldBalanced},
		{func(s *LimbSpec) { s.Range = limits }, limits, FieldBalanced},
		{func(s *LimbSpec) { s.Range.Name = RangeNone }, Range{Name: RangeNone}, FieldShortest},
		{func(s *LimbSpec) { s.Field = FieldCentred }, Range{Name: RangeHip}, FieldCentred},
		{func(s *LimbSpec) { s.Twist, s.Tip = TwistTip, "shin_l" }, Range{Name: RangeNone}, FieldShortest},
	} {
		spec := thigh
		c.change(&spec)
		infos, err := Resolve(f, []LimbSpec{spec})
		require.NoError(t, err)
		require.Equal(t, c.motion, infos[0].RangeSpec)
		require.Equal(t, c.field, infos[0].FieldName)
		require.Equal(t, 1, infos[0].Side)
		require.Empty(t, infos[0].Warnings)
	}
	thigh.Shares.List = []float64{0, 1, 0.5}
	infos, err := Resolve(f, []LimbSpec{thigh})
	require.NoError(t, err)
	require.Len(t, infos[0].Warnings, 1)
	require.Contains(t, infos[0].Warnings[0], "shares fall from 1 to 0.5")
}
