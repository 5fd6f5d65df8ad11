package engine

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

func product(factors ...[4]float64) [4]float64 {
	q := quat.Number{Real: 1}
	for _, f := range factors {
		q = quat.Mul(q, toQuat(f))
	}
	return xyzw(quat.Scale(1/quat.Abs(q), q))
}

func conj(q [4]float64) [4]float64 { return [4]float64{-q[0], -q[1], -q[2], q[3]} }

func requireRotation(t *testing.T, want, got [4]float64) {
	t.Helper()
	const rounding = 4e-15
	require.InDeltaSlice(t, want[:], got[:], rounding)
}

// FromRest is the formulas of pronate.h: that of local rotations where the joint's
// parent is the anchor and the tip's the joint, and that of the world.
func TestFromRest(t *testing.T) {
	anchorRest, localRest, tipLocalRest := someRest, [4]float64{.2, .1, -.7, .3}, [4]float64{-.3, .9, .1, .2}
	anchor, local, tipLocal := tip, joint, [4]float64{.4, .1, .1, -.6}
	jointRest := product(anchorRest, localRest)
	tipRest := product(jointRest, tipLocalRest)
	h := newLimb(t, Spec{Twist: chain.Tip, AnchorRest: anchorRest, JointRest: jointRest, TipRest: tipRest})
	l, err := Lookup(h)
	require.NoError(t, err)
	jointNow := product(anchor, local)
	tipNow := product(jointNow, tipLocal)
	near, far, err := l.FromRest(&anchor, &jointNow, &tipNow)
	require.NoError(t, err)
	requireRotation(t, product(conj(localRest), local), near)
	requireRotation(t, product(tipLocal, conj(tipLocalRest)), far)
	carried := product(anchor, conj(anchorRest), jointRest)
	requireRotation(t, product(conj(carried), jointNow), near)
	requireRotation(t, product(conj(jointNow), tipNow, conj(tipRest), jointRest), far)

	near, far, err = l.FromRest(&anchorRest, &jointRest, &tipRest)
	require.NoError(t, err)
	requireRotation(t, [4]float64{0, 0, 0, 1}, near)
	requireRotation(t, [4]float64{0, 0, 0, 1}, far)
	require.NoError(t, Free(h))
}

func TestFromRestOddities(t *testing.T) {
	own, far := newLimb(t, Spec{}), newLimb(t, Spec{Twist: chain.Tip})
	call := func(h Handle, anchor, joint, tip *[4]float64) ([4]float64, [4]float64, error) {
		l, err := Lookup(h)
		require.NoError(t, err)
		return l.FromRest(anchor, joint, tip)
	}
	q, bad, zero, identity := joint, [4]float64{0, math.Inf(1), 0, 1}, [4]float64{}, [4]float64{0, 0, 0, 1}
	for _, c := range []struct {
		h                  Handle
		anchor, joint, tip *[4]float64
		status             Status
		want               string
	}{
		{own, nil, &q, nil, BadArgument, "anchor is null"},
		{own, &q, nil, nil, BadArgument, "joint is null"},
		{far, &q, &q, nil, BadArgument, "tip is null, expected rotations of the tip"},
		{own, &bad, &q, nil, NotFinite, "anchor is [0 +Inf 0 1], expected a finite rotation"},
		{own, &q, &bad, nil, NotFinite, "joint is [0 +Inf 0 1]"},
		{far, &zero, &q, &bad, NotFinite, "tip is [0 +Inf 0 1]"},
		{own, &q, &zero, nil, Undefined, "joint is a zero quaternion, expected a rotation; it was taken for the identity"},
	} {
		near, r, err := call(c.h, c.anchor, c.joint, c.tip)
		require.ErrorContains(t, err, c.want)
		require.Equal(t, c.status, StatusOfError(err))
		require.Equal(t, c.status > 0, IsRemark(err))
		if c.status == NotFinite {
			require.True(t, math.IsNaN(near[0]+r[0]))
		}
	}
	near, r, err := call(own, &zero, &q, nil)
	require.Equal(t, Undefined, StatusOfError(err))
	requireRotation(t, product(q), near)
	require.Equal(t, identity, r)
	// A tip that is not read is not looked at.
	_, r, err = call(own, &q, &q, &bad)
	require.NoError(t, err)
	require.Equal(t, identity, r)
	require.NoError(t, Free(own))
	require.NoError(t, Free(far))
}
