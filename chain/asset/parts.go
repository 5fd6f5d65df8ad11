package asset

import "slices"

// parts are bytes that lie in several places, to be read as if one after another:
// a buffer of many megabytes grows by what is added and is not copied for it.
type parts struct {
	slices [][]byte
	starts []int
	size   int
}

// add appends bytes, which are not to be written to any more.
func (p *parts) add(data []byte) {
	if len(data) > 0 {
		p.slices, p.starts = append(p.slices, data), append(p.starts, p.size)
		p.size += len(data)
	}
}

// pad appends zeros until the size is congruent to another, modulo a small step.
func (p *parts) pad(to, step int) {
	p.add(make([]byte, ((to-p.size)%step+step)%step))
}

// addFrom appends the bytes of q from one place to another.
func (p *parts) addFrom(q *parts, from, to int) {
	i, exact := slices.BinarySearch(q.starts, from)
	if !exact {
		i--
	}
	for ; from < to; i++ {
		part := q.slices[i][from-q.starts[i]:]
		part = part[:min(len(part), to-from)]
		p.add(part)
		from += len(part)
	}
}
