package kernel

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Law is what stays the same from pose to pose. It is read only once made.
type Law struct {
	Axis  r3.Vec    // unit long axis a
	Own   []float64 // k_i - 1, one per segment
	Tip   []float64 // m_i, one per segment; nil where no tip drives the limb
	Swing Swing     // of the joint
	Plain Swing     // of the tip: no centre
}

// Split measures the joint's twist and the tip's. tip is read only where the
// law has tip shares; otherwise its twist is that of the identity.
func (l *Law) Split(own, far *Twist, joint, tip quat.Number) {
	l.Swing.Twist(own, joint)
	if l.Tip == nil {
		far.set(0, 0, 1, 1, true)
		return
	}
	l.Plain.Twist(far, tip)
}

// Segments writes each segment's rotation in the joint's frame, with a real
// part >= 0. dst has one element per segment.
func (l *Law) Segments(dst []quat.Number, own, far *Twist) {
	shares := l.Own[:len(dst)]
	if l.Tip != nil {
		tip := l.Tip[:len(dst)]
		for i := range dst {
			axial(&dst[i], &l.Axis, wrapHalf(float64(shares[i]*own.Half)+float64(tip[i]*far.Half)))
		}
		return
	}
	for i := range dst {
		switch shares[i] {
		case -1: // the root: the twist undone, whose sine and cosine are known
			turn(&dst[i], &l.Axis, -own.Sin, own.Cos)
		case 0: // the end: the joint itself (0 times the angle lets NaN through)
			turn(&dst[i], &l.Axis, 0*own.Half, 1)
		default:
			axial(&dst[i], &l.Axis, float64(shares[i]*own.Half))
		}
	}
}

// Angles writes each segment's angle about the axis, in radians, unwrapped.
// dst has one element per segment.
func (l *Law) Angles(dst []float64, own, far *Twist) {
	for i := range dst {
		dst[i] = 2 * float64(l.Own[i]*own.Half)
		if l.Tip != nil {
			dst[i] += 2 * float64(l.Tip[i]*far.Half)
		}
	}
}

// axial stores the rotation about the unit axis a by twice half.
func axial(q *quat.Number, a *r3.Vec, half float64) {
	sin, cos := sincos(half)
	turn(q, a, sin, cos)
}

func turn(q *quat.Number, a *r3.Vec, sin, cos float64) {
	q.Real, q.Imag, q.Jmag, q.Kmag = cos, float64(sin*a.X), float64(sin*a.Y), float64(sin*a.Z)
}
