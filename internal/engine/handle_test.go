package engine

import (
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

func newLimb(t testing.TB, s Spec) Handle {
	t.Helper()
	h, err := New(s)
	require.NoError(t, err)
	return h
}

func TestHandles(t *testing.T) {
	h := newLimb(t, Spec{Segments: 5})
	require.NotZero(t, h)
	l, err := Lookup(h)
	require.NoError(t, err)
	require.Equal(t, 5, l.Segments())
	require.NoError(t, Free(h))

	_, err = Lookup(h)
	require.ErrorContains(t, err, "has been freed or was never made")
	require.Equal(t, BadLimb, StatusOfError(err))
	require.Equal(t, BadLimb, StatusOfError(Free(h)))
	require.NoError(t, Free(0))
	_, err = Lookup(0)
	require.EqualError(t, err, "limb is 0, expected one that was made and not freed")
	for _, made := range []Handle{1, 1 << 32 << 31, math.MaxUint64, math.MaxUint32, 7<<32 | math.MaxUint32} {
		_, err := Lookup(made)
		require.Equal(t, BadLimb, StatusOfError(err), made)
		require.Equal(t, BadLimb, StatusOfError(Free(made)), made)
	}
}

// A place is taken again, and the number before it stays stale.
func TestPlacesAreTakenAgain(t *testing.T) {
	first := newLimb(t, Spec{})
	require.NoError(t, Free(first))
	second := newLimb(t, Spec{})
	require.Equal(t, first.place(), second.place())
	require.NotEqual(t, first, second)
	_, err := Lookup(first)
	require.Error(t, err)
	require.NoError(t, Free(second))
}

// A place whose numbers are used up is left, so that none comes back.
func TestNumbersRunOut(t *testing.T) {
	var own table
	h := own.add(&Limb{})
	own.taken[h.place()] = math.MaxUint32 - 1
	require.True(t, own.remove(h))
	last := own.add(&Limb{})
	require.Equal(t, h.place(), last.place())
	require.Equal(t, Handle(math.MaxUint32), last>>32)
	require.True(t, own.remove(last))
	require.NotEqual(t, last.place(), own.add(&Limb{}).place())
}

func TestTableGrows(t *testing.T) {
	var own table
	require.Nil(t, own.lookup(1<<32))
	made := map[Handle]*Limb{}
	for range 1000 {
		l := &Limb{}
		h := own.add(l)
		require.NotContains(t, made, h)
		made[h] = l
	}
	for h, l := range made {
		require.Same(t, l, own.lookup(h))
	}
}

// Many make, use and free limbs at a time, and each finds its own as long as it
// has it: for the race detector too.
func TestHandlesAtATime(t *testing.T) {
	shared := newLimb(t, Spec{Segments: 3})
	var wait sync.WaitGroup
	for w := range 8 {
		wait.Go(func() {
			joint, dst := [4]float64{.1, .2, .3, .9}, make([]float64, 4*32)
			for i := range 200 {
				segments := 2 + (w+i)%31
				h, err := New(Spec{Segments: segments})
				if err != nil {
					t.Error(err)
					return
				}
				l, err := Lookup(h)
				if err != nil || l.Segments() != segments {
					t.Error(h, err)
				}
				if _, err := SolvePacked(h, &dst[0], &joint[0], nil, 1); err != nil {
					t.Error(err)
				}
				if _, err := SolvePacked(shared, &dst[0], &joint[0], nil, 1); err != nil {
					t.Error(err)
				}
				if err := Free(h); err != nil {
					t.Error(err)
				}
				if _, err := Lookup(h); err == nil {
					t.Error("found after it was freed")
				}
			}
		})
	}
	wait.Wait()
	require.NoError(t, Free(shared))
}
