package engine

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// alike are limbs that are all different.
func alike() map[string]Spec {
	specs := map[string]Spec{
		"zero":   {},
		"axis":   {Axis: [3]float64{1, 2, 3}},
		"three":  {Segments: 3},
		"smooth": {Segments: 3, Ramp: chain.Smooth, Shares: []float64{0, .25, 1}},
		"tip":    {Twist: chain.Tip},
		"both":   {Shares: []float64{0, 1}, TipShares: []float64{0, 1}},
		"near":   {Shares: []float64{0x1p-53, 1}},
		"anchor": {AnchorRest: someRest},
		"joint":  {JointRest: joint},
		"far":    {Twist: chain.Tip, TipRest: someRest},
		"centre": {CentreMode: chain.Given, Centre: [3]float64{1, 2, 0}},
		"hip":    hip(),
	}
	for name, change := range map[string]func(*Spec){
		"plain hip":   func(s *Spec) { s.Field = chain.Shortest },
		"centred hip": func(s *Spec) { s.Field = chain.Centred },
		"shoulder":    func(s *Spec) { s.Range = RangeShoulder },
		"wrist":       func(s *Spec) { s.Range = RangeWrist },
		"right hip":   func(s *Spec) { s.Out = [3]float64{-1, 0, 0} },
		"limits": func(s *Spec) {
			s.Range, s.FlexionDeg, s.AbductionDeg = RangeLimits, [2]float64{-20, 80}, [2]float64{-10, 40}
		},
	} {
		s := hip()
		change(&s)
		specs[name] = s
	}
	return specs
}

// Limbs made alike have one fingerprint and others another.
func TestFingerprint(t *testing.T) {
	seen := map[uint64]string{}
	for name, spec := range alike() {
		one := describe(t, spec).Fingerprint
		require.Empty(t, seen[one], name)
		seen[one] = name
		require.Equal(t, one, describe(t, spec).Fingerprint, name)
	}
	// What says the same gives the same.
	want := describe(t, Spec{}).Fingerprint
	for name, spec := range map[string]Spec{
		"spelt out":    {Axis: [3]float64{0, 9, 0}, Segments: 2, Shares: []float64{0, 1}, CentreMode: chain.None, JointRest: [4]float64{0, 0, 0, 2}},
		"tip not read": {TipRest: someRest},
		"-q":           {JointRest: [4]float64{0, 0, 0, -1}},
		"all turned":   {AnchorRest: [4]float64{1, 0, 0, 0}, JointRest: [4]float64{-1, 0, 0, 0}},
	} {
		require.Equal(t, want, describe(t, spec).Fingerprint, name)
	}
	spec := Spec{JointRest: someRest}
	want = describe(t, spec).Fingerprint
	for i := range spec.JointRest {
		spec.JointRest[i] *= -1
	}
	require.Equal(t, want, describe(t, spec).Fingerprint)
}

func TestOneSign(t *testing.T) {
	for _, q := range []quat.Number{{Real: .5, Imag: -.5}, {Imag: .5, Kmag: -.5}, {Kmag: 1}} {
		require.Equal(t, oneSign(q), oneSign(quat.Scale(-1, q)))
	}
	require.False(t, math.Signbit(oneSign(quat.Number{Real: 1, Imag: math.Copysign(0, -1)})[1]))
}

// TestSameBitsFingerprints: on every processor limbs have these. Other ones are
// other solved bits: see DEVELOPERS.md, Releasing.
func TestSameBitsFingerprints(t *testing.T) {
	specs := alike()
	for name, want := range map[string]uint64{
		"zero":   0x0804cd5ae85e9fe7,
		"both":   0x2f1d42746db84691,
		"far":    0x989e2067c4a95035,
		"centre": 0x1c1f017dc97ce669,
		"hip":    0xc1872a27e4c836ae,
		"limits": 0x229fa29dcd91841e,
	} {
		got := describe(t, specs[name]).Fingerprint
		require.Equal(t, want, got, "%s: %#016x", name, got)
	}
}
