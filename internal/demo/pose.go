package demo

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// pose is how far each joint has turned from rest, seen along the axes the world
// has at rest and carried by the joints above; the zero quaternion stands for no
// turn. lift moves the pelvis.
type pose struct {
	turn [jointCount]quat.Number
	lift r3.Vec
}

// local is the rotation to write for joint i, in its parent's frame. With W the
// joint's rest rotation and P its parent's, it is P* D W: the joint's own frame
// may stand any way it likes.
func (p *pose) local(js []joint, i int) quat.Number {
	q := js[i].turn
	if p.turn[i] != (quat.Number{}) {
		q = quat.Mul(p.turn[i], q)
	}
	if js[i].parent >= 0 {
		q = quat.Mul(quat.Conj(js[js[i].parent].turn), q)
	}
	return q
}

// place gives where every joint is in the world, and how it turned from rest.
func (p *pose) place(js []joint) (at [jointCount]r3.Vec, turned [jointCount]quat.Number) {
	for i, j := range js {
		turned[i] = quat.Number{Real: 1}
		at[i] = r3.Add(j.at, p.lift)
		if j.parent >= 0 {
			turned[i] = turned[j.parent]
			at[i] = r3.Add(at[j.parent], rotate(turned[i], r3.Sub(j.at, js[j.parent].at)))
		}
		if p.turn[i] != (quat.Number{}) {
			turned[i] = quat.Mul(turned[i], p.turn[i])
		}
	}
	return at, turned
}

// planted moves the pelvis so that a joint stays where it is at rest.
func (p pose) planted(i int) pose {
	js := skeleton()
	at, _ := p.place(js)
	p.lift = r3.Add(p.lift, r3.Sub(js[i].at, at[i]))
	return p
}
