package splitter

import (
	"cmp"
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/engine"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// ways to ask for a limb, with the fields they have to come to; a limb that ramps a
// tip's twist is asked for what it can have, and bends by the shortest arc. What is
// detected has a field of its own.
var ways = []struct {
	name   string
	change func(l *limbText)
	field  string
}{
	{"as detected", func(*limbText) {}, ""},
	{"nothing asked", func(l *limbText) { l.Range, l.Field, l.Centre = nil, "", nil }, asset.FieldBalanced},
	{"least roll", func(l *limbText) { l.Field, l.Segments = asset.FieldLeastRoll, raw(6) }, asset.FieldLeastRoll},
	{"centred", func(l *limbText) { l.Field, l.Shares = asset.FieldCentred, raw("smooth") }, asset.FieldCentred},
	{"shortest", func(l *limbText) { l.Field = asset.FieldShortest }, asset.FieldShortest},
	{"shares", func(l *limbText) { l.Field, l.Segments, l.Shares = "", raw(2), raw([]float64{0.1, 1. / 3}) }, asset.FieldBalanced},
	// None of these is what it was after a way through radians and back.
	{"limits", func(l *limbText) {
		l.Field, l.Range = "", raw(limitsText{Flexion: &[2]float64{-38.6, 74.8}, Abduction: &[2]float64{-18.7, 35.7}})
	}, asset.FieldBalanced},
	{"own directions", func(l *limbText) {
		l.Field, l.Range = "", raw(limitsText{&[2]float64{-38.6, 74.8}, &[2]float64{-18.7, 35.7}, &[3]float64{0, -0.6, 0.8}, &[3]float64{0, 0.8, 0.6}, &[3]float64{-1, 0, 0}})
	}, asset.FieldBalanced},
	{"given centre", func(l *limbText) { l.Field, l.Centre = asset.FieldCentred, raw([]float64{0.1, -0.9, 0.3}) }, asset.FieldCentred},
}

// The specification has the JavaScript solver's reader make a solver that answers
// with the same bits as the one that the split was made with.
func TestSpecificationHasTheSplitsBits(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for name, c := range characters(t) {
		for _, way := range ways {
			limbs := c.detected(t)
			kinds := map[string]int{}
			for i := range limbs.Limbs {
				l := &limbs.Limbs[i]
				spared := *l
				way.change(l)
				if l.Twist == asset.TwistTip {
					l.Field, l.Range, l.Centre = spared.Field, spared.Range, spared.Centre
				}
				if name == "mirrored" && l.Side == "right" { // which bends plainly, whatever is wished
					l.Field, l.Centre = "", nil
				}
			}
			specs, err := limbsOf(textOfLimbs(t, limbs))
			require.NoError(t, err)
			_, said := c.split(t, limbs)
			infos, err := asset.Resolve(c.file, specs)
			require.NoError(t, err)
			require.Len(t, said.Limbs, len(infos))
			for i, info := range infos {
				want, err := chain.NewSolver(info.Solver)
				require.NoError(t, err)
				text, err := json.Marshal(said.Limbs[i].Solver)
				require.NoError(t, err)
				spec, err := engine.ParseSpec(text)
				require.NoError(t, err, string(text))
				if spec.Range == engine.RangeLimits { // a last bit may not show in the answers
					require.Equal(t, info.Spec.Range.FlexionDeg, spec.FlexionDeg)
					require.Equal(t, info.Spec.Range.AbductionDeg, spec.AbductionDeg)
				}
				requireSameAnswers(t, random, want, spec, name+", "+way.name+": "+info.Spec.Name)
				kinds[limbs.Limbs[i].Twist]++
				if info.Spec.Twist == asset.TwistOwn && info.Sense > 0 {
					require.Equal(t, cmp.Or(way.field, limbs.Limbs[i].Field), info.FieldName, way.name)
				}
			}
			require.Positive(t, kinds[asset.TwistOwn], name)
			require.Positive(t, kinds[asset.TwistTip], name)
		}
	}
}

func textOfLimbs(t *testing.T, limbs limbsText) string {
	t.Helper()
	text, err := encoded(limbs)
	require.NoError(t, err)
	return text
}

func requireSameAnswers(t *testing.T, random *rand.Rand, want *chain.Solver, spec engine.Spec, about string) {
	t.Helper()
	handle, err := engine.New(spec)
	require.NoError(t, err, about)
	defer func() { require.NoError(t, engine.Free(handle)) }()
	got, err := engine.Lookup(handle)
	require.NoError(t, err)
	n := want.Segments()
	require.Equal(t, n, got.Segments(), about)
	a, b := make([]quat.Number, n), make([]float64, 4*n)
	for range 40 {
		var joint, tip [4]float64
		for i := range joint {
			joint[i], tip[i] = random.NormFloat64(), random.NormFloat64()
		}
		r := want.Solve(a, quat.Number{Real: joint[3], Imag: joint[0], Jmag: joint[1], Kmag: joint[2]},
			quat.Number{Real: tip[3], Imag: tip[0], Jmag: tip[1], Kmag: tip[2]})
		result, status, err := got.Solve(b, &joint, &tip)
		require.NoError(t, err)
		require.Equal(t, engine.OK, status)
		require.Equal(t, math.Float64bits(r.Twist), math.Float64bits(result.Twist), about)
		require.Equal(t, math.Float64bits(r.TipTwist), math.Float64bits(result.TipTwist), about)
		for i, q := range a {
			for k, x := range [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} {
				require.Equal(t, math.Float64bits(x), math.Float64bits(b[4*i+k]), about)
			}
		}
	}
	own, tip := want.Shares()
	info := got.Describe()
	require.Equal(t, own, slices.Clone(info.Shares[:n]), about)
	require.Equal(t, tip != nil, info.HasTip == 1, about)
	require.Equal(t, !want.Range().IsZero(), info.HasRange == 1, about)
}
