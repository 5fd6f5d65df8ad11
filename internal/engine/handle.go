package engine

import (
	"math"
	"sync"
	"sync/atomic"
)

// Handle is a limb's number: its place in the low half, and in the high half which
// of the limbs that have had the place it is, from 1 on. So 0 is none, and a
// number that was freed is found out when its place has another limb.
type Handle uint64

func (h Handle) place() uint64 { return uint64(h) & math.MaxUint32 }

// table keeps the limbs. Looking one up takes no lock: places are atomic, and a
// table that has become too small is copied, so that one that is being read stays
// as it is. What another goroutine frees meanwhile may be found or not.
type table struct {
	places atomic.Pointer[[]atomic.Pointer[Limb]]

	sync.Mutex          // for those that change it
	taken      []uint32 // how often each place has been taken
	free       []uint32 // places that can be
}

var limbs table

// add gives a limb its number.
func (t *table) add(l *Limb) Handle {
	t.Lock()
	defer t.Unlock()
	if len(t.free) == 0 {
		t.grow()
	}
	place := t.free[len(t.free)-1]
	t.free = t.free[:len(t.free)-1]
	t.taken[place]++
	l.handle = Handle(place) | Handle(t.taken[place])<<32
	(*t.places.Load())[place].Store(l)
	return l.handle
}

// grow doubles the places.
func (t *table) grow() {
	const least = 64
	var old []atomic.Pointer[Limb]
	if p := t.places.Load(); p != nil {
		old = *p
	}
	places := make([]atomic.Pointer[Limb], max(least, 2*len(old)))
	for i := range old {
		places[i].Store(old[i].Load())
	}
	for i := len(places) - 1; i >= len(old); i-- {
		t.free = append(t.free, uint32(i)) // the lowest is taken first
	}
	t.taken = append(t.taken, make([]uint32, len(places)-len(old))...)
	t.places.Store(&places)
}

// remove reports whether there was such a limb.
func (t *table) remove(h Handle) bool {
	t.Lock()
	defer t.Unlock()
	if t.lookup(h) == nil {
		return false
	}
	place := h.place()
	(*t.places.Load())[place].Store(nil)
	if t.taken[place] < math.MaxUint32 { // a place whose numbers are used up stays empty
		t.free = append(t.free, uint32(place))
	}
	return true
}

// lookup returns nil where there is no such limb.
func (t *table) lookup(h Handle) *Limb {
	p := t.places.Load()
	if p == nil || h.place() >= uint64(len(*p)) {
		return nil
	}
	if l := (*p)[h.place()].Load(); l != nil && l.handle == h {
		return l
	}
	return nil
}

// Lookup finds a limb, or says that there is none.
func Lookup(h Handle) (*Limb, error) {
	if l := limbs.lookup(h); l != nil {
		return l, nil
	}
	return nil, noLimb(h)
}

func noLimb(h Handle) error {
	if h == 0 {
		return BadLimb.errorf("limb is 0, expected one that was made and not freed")
	}
	return BadLimb.errorf("limb %d has been freed or was never made, expected one that was made and not freed", uint64(h))
}

// Free frees a limb; those who solve with it at the moment finish. 0 is fine and
// does nothing.
func Free(h Handle) error {
	if h == 0 || limbs.remove(h) {
		return nil
	}
	return noLimb(h)
}
