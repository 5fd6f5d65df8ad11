package engine

import (
	"testing"
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

func describe(t *testing.T, s Spec) Info {
	t.Helper()
	h := newLimb(t, s)
	l, err := Lookup(h)
	require.NoError(t, err)
	info := l.Describe()
	require.NoError(t, Free(h))
	return info
}

func TestDescribe(t *testing.T) {
	info := describe(t, Spec{Axis: [3]float64{0, 0, 5}, Shares: []float64{0, .25, 1}, TipShares: []float64{1, .5, 0}})
	require.EqualValues(t, 3, info.Segments)
	require.EqualValues(t, 1, info.HasTip)
	require.Zero(t, info.HasRange)
	require.EqualValues(t, chain.Shortest, info.Field)
	require.Equal(t, ahead, info.Axis)
	require.Equal(t, ahead, info.Centre)
	require.Equal(t, [chain.MaxSegments]float64{0, .25, 1}, info.Shares)
	require.Equal(t, [chain.MaxSegments]float64{1, .5, 0}, info.TipShares)

	info = describe(t, Spec{Segments: chain.MaxSegments})
	require.Zero(t, info.HasTip)
	require.Equal(t, 1., info.Shares[chain.MaxSegments-1])
	require.Zero(t, info.TipShares)

	for want, change := range map[chain.Field]func(*Spec){
		chain.Balanced:  func(*Spec) {},
		chain.LeastRoll: func(s *Spec) { s.Field = chain.LeastRoll },
		chain.Shortest:  func(s *Spec) { s.Field = chain.Shortest },
		chain.Centred:   func(s *Spec) { s.CentreMode, s.Centre = chain.Given, ahead },
	} {
		s := hip()
		change(&s)
		info := describe(t, s)
		require.EqualValues(t, want, info.Field)
		require.EqualValues(t, 1, info.HasRange)
		if want == chain.Centred {
			require.Equal(t, ahead, info.Centre)
		}
	}
	s := hip()
	middle := describe(t, s).Centre // a bone that points straight away from its range's middle
	s.Axis = [3]float64{-middle[0], -middle[1], -middle[2]}
	require.EqualValues(t, chain.Shortest, describe(t, s).Field)
}

// The doors hand it over by address.
func TestLayoutOfInfo(t *testing.T) {
	require.EqualValues(t, InfoSize, unsafe.Sizeof(Info{}))
	require.EqualValues(t, 24, unsafe.Offsetof(Info{}.Axis))
	require.EqualValues(t, 72, unsafe.Offsetof(Info{}.Shares))
	require.EqualValues(t, InfoSize-8, unsafe.Offsetof(Info{}.Fingerprint))
	require.EqualValues(t, InfoSize, describe(t, Spec{}).Size)
}
