package chain

import (
	"container/list"
	"sync"
)

// recent keeps what was made for the keys asked about last, and forgets the rest.
// What one key wants is made once, and does not hold up other keys.
type recent[K comparable, V any] struct {
	most int

	lock  sync.Mutex
	made  map[K]*list.Element // of made[K, V]
	order list.List           // the last one asked about first
}

type made[K comparable, V any] struct {
	key   K
	once  sync.Once
	value V
}

// of is what is made for a key. A key that is not itself, with a NaN in it, is never
// found again and so not kept.
func (r *recent[K, V]) of(key K, make func() V) V {
	if key != key {
		return make()
	}
	m := r.entry(key)
	m.once.Do(func() { m.value = make() })
	return m.value
}

func (r *recent[K, V]) entry(key K) *made[K, V] {
	r.lock.Lock()
	defer r.lock.Unlock()
	if e, ok := r.made[key]; ok {
		r.order.MoveToFront(e)
		return e.Value.(*made[K, V])
	}
	if r.made == nil {
		r.made = map[K]*list.Element{}
	}
	m := &made[K, V]{key: key}
	r.made[key] = r.order.PushFront(m)
	if r.order.Len() > r.most {
		delete(r.made, r.order.Remove(r.order.Back()).(*made[K, V]).key)
	}
	return m
}
