package asset

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// bareStance is what a character says of a limb, as a program with joints of its
// own would.
func bareStance(t *testing.T, f *File, l LimbInfo) Stance {
	t.Helper()
	e, err := f.Evaluator()
	require.NoError(t, err)
	world := e.World(-1, 0)
	frame := func(node int) rest.Frame {
		r, residual := rest.Anchor(world[node])
		require.Less(t, residual.Shear, 1e-6)
		return r
	}
	at := Stance{Axis: r3.Scale(7, l.TurnAxis), Anchor: frame(f.parent[l.Joint]), Joint: frame(l.Joint)}
	if l.Tip >= 0 {
		at.Tip = frame(l.Tip)
	}
	return at
}

// A limb file gives the same limb without its character's file: the same swings, to
// the rounding of float32 files and of frames told in the world.
func TestBareLimbIsTheCharacters(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	const rounding = 1e-6
	for name, o := range map[string]fixture.Options{"plain": {}, "odd": {Axes: fixture.Odd}, "level": {Axes: fixture.Level}} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		f, err := Decode(character.Name, character.Data, character.FS())
		require.NoError(t, err)
		limbs, err := Resolve(f, nil)
		require.NoError(t, err)
		ranges := 0
		for _, l := range limbs {
			s, note, err := l.Spec.Solver(bareStance(t, f, l))
			require.NoError(t, err, name)
			require.Empty(t, note, name)
			require.Equal(t, l.Solver.Segments, s.Segments())
			require.Equal(t, l.Field.IsCorrected(), s.Field().IsCorrected(), l.Spec.Name)
			require.InDelta(t, 0, r3.Norm(r3.Sub(l.Field.Centre(), s.Centre())), rounding, l.Spec.Name)
			require.InDelta(t, 0, r3.Norm(r3.Sub(l.TurnAxis, s.Axis())), rounding)
			require.Equal(t, l.Range.Flexion, s.Range().Flexion)
			require.InDelta(t, 0, r3.Norm(r3.Sub(l.Range.Out, s.Range().Out)), rounding)
			require.InDelta(t, 0, r3.Norm(r3.Sub(l.Range.Down, s.Range().Down)), rounding)
			if !s.Range().IsZero() {
				ranges++
			}
			own, tip := s.Shares()
			require.Equal(t, l.Tip >= 0, tip != nil, own)
		}
		require.Positive(t, ranges, name)
	}
}

func TestBareLimbErrors(t *testing.T) {
	limb := func(change func(*LimbSpec)) LimbSpec {
		s := LimbSpec{Joint: "thigh_l", End: End{Joint: "shin_l"}}
		change(&s)
		return s
	}
	for want, s := range map[string]LimbSpec{
		`character: limb "thigh_l": twist is "both", expected own or tip`:                                           limb(func(s *LimbSpec) { s.Twist = "both" }),
		`character: limb "bone": range: is hip, and neither names nor places tell left from right, expected limits`: limb(func(s *LimbSpec) { s.Joint, s.Range.Name = "bone", RangeHip }),
		`character: limb "thigh_l": centre: points against the bone`:                                                limb(func(s *LimbSpec) { s.Centre.Direction = &[3]float64{0, -1, 0} }),
	} {
		_, _, err := s.Solver(Stance{})
		require.ErrorContains(t, err, want)
	}
	_, _, err := limb(func(*LimbSpec) {}).Solver(Stance{Joint: rest.Frame{Rotation: quat.NaN()}})
	require.EqualError(t, err, `character: limb "thigh_l": joint rest frame is not finite`)
}

// Nothing said is a bone along +Y in frames that are one.
func TestBareLimbDefaults(t *testing.T) {
	s, note, err := LimbSpec{Joint: "tail", End: End{Joint: "tail_end"}}.Solver(Stance{})
	require.NoError(t, err)
	require.Empty(t, note)
	plain, err := chain.NewSolver(chain.Limb{Segments: DefaultSegments})
	require.NoError(t, err)
	dst, want := make([]quat.Number, DefaultSegments), make([]quat.Number, DefaultSegments)
	joint := quat.Number{Real: .6, Imag: .3, Jmag: -.5, Kmag: .2}
	require.Equal(t, plain.Solve(want, joint, quat.Number{}), s.Solve(dst, joint, quat.Number{}))
	require.Equal(t, want, dst)
}

// A leg that lies folded up at rest is not a person's: the range that its name stands
// for is left aside, which is told, unless the limb file says by which field it bends.
func TestBareLimbRangeLeftAside(t *testing.T) {
	thigh := LimbSpec{Joint: "thigh_l", End: End{Joint: "shin_l"}}
	folded := Stance{Axis: r3.Vec{Y: 1}}
	const why = "at rest the bone points 60 degrees out of a person's range of motion, which is left aside"
	for _, name := range []string{"", RangeHip} {
		thigh.Range.Name = name
		s, note, err := thigh.Solver(folded)
		require.NoError(t, err)
		require.Contains(t, note, why)
		require.True(t, s.Range().IsZero())
		require.False(t, s.Field().IsCorrected())

		s, note, err = thigh.Solver(Stance{Axis: r3.Vec{Y: -1}})
		require.NoError(t, err)
		require.Empty(t, note)
		require.True(t, s.Field().IsCorrected())
	}
	thigh.Field = FieldLeastRoll
	s, note, err := thigh.Solver(folded)
	require.NoError(t, err)
	require.Empty(t, note)
	require.False(t, s.Range().IsZero())
	require.True(t, s.Field().IsCorrected())
}
