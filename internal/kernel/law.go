package kernel

import (
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/spatial/r3"
)

// MaxSegments is how many segments a law may have.
const MaxSegments = 32

// Law is what stays the same from one rotation to the next. It is read only.
type Law[F Real] struct {
	axis     [3]F       // unit long axis a
	segments []share[F] // one each
	curved   []int      // those that need a sine and cosine of their own
	hasTip   bool       // a tip drives the limb too
	swing    Swing[F]   // of the joint
	plain    Swing[F]   // of the tip: no centre
}

// share is what a segment takes of the twists.
type share[F Real] struct {
	own F // k_i - 1
	tip F // m_i
	kind
}

// kind tells the shares apart that need no sine and cosine of their own.
type kind uint8

const (
	mixed   kind = iota // part of both twists
	ofOwn               // part of the joint's alone
	ofTip               // part of the tip's alone
	ownBack             // the joint's twist undone: a root
	tipAll              // the tip's twist whole: a tip
	still               // nothing: the joint itself
)

// NewLaw returns the law of a limb with the unit long axis a, and k_i - 1 and m_i
// for each segment; tip is nil where no tip drives the limb.
func NewLaw[F Real](axis r3.Vec, own, tip []float64, field, plain *swing.Field) *Law[F] {
	l := &Law[F]{axis: of[F](axis), hasTip: tip != nil, swing: NewSwing[F](field), plain: NewSwing[F](plain)}
	l.segments = make([]share[F], len(own))
	for i := range own {
		s := &l.segments[i]
		s.own = F(own[i])
		if tip != nil {
			s.tip = F(tip[i])
		}
		switch {
		case s.own == 0 && s.tip == 0:
			s.kind = still
		case s.own == -1 && s.tip == 0:
			s.kind = ownBack
		case s.own == 0 && s.tip == 1:
			s.kind = tipAll
		case s.tip == 0:
			s.kind = ofOwn
		case s.own == 0:
			s.kind = ofTip
		}
		if s.kind <= ofTip {
			l.curved = append(l.curved, i)
		}
	}
	return l
}

// Segments is their number.
func (l *Law[F]) Segments() int { return len(l.segments) }

// Split measures the joint's twist and the tip's, given as w, x, y, z. tip is
// read only where the law has tip shares; otherwise its twist is the identity's.
func (l *Law[F]) Split(own, far *Twist[F], joint, tip *[4]F) {
	l.swing.Twist(own, joint[0], joint[1], joint[2], joint[3])
	if !l.hasTip {
		far.set(0, 0, 1, 1, true)
		return
	}
	l.plain.Twist(far, tip[0], tip[1], tip[2], tip[3])
}

// Solve writes each segment's rotation in the joint's frame, as w, x, y, z with
// w >= 0. dst has one element per segment. A twist that is NaN makes all NaN.
func (l *Law[F]) Solve(dst [][4]F, own, far *Twist[F]) {
	if own.Half != own.Half || far.Half != far.Half {
		for i := range dst {
			dst[i] = [4]F{nan[F](), nan[F](), nan[F](), nan[F]()}
		}
		return
	}
	for i := range dst {
		switch l.segments[i].kind {
		case ownBack:
			l.turn(&dst[i], -own.Sin, own.Cos)
		case tipAll:
			l.turn(&dst[i], far.Sin, far.Cos)
		case still:
			dst[i] = [4]F{1, 0, 0, 0}
		}
	}
	// Polynomials overlap when several are under way.
	const several = 4
	var half, sin, cos [several]F
	for first := 0; first < len(l.curved); first += several {
		curved := l.curved[first:min(first+several, len(l.curved))]
		for k, i := range curved {
			half[k] = l.segments[i].half(own.Half, far.Half)
		}
		sincos(sin[:], cos[:], half[:len(curved)])
		for k, i := range curved {
			l.turn(&dst[i], sin[k], cos[k])
		}
	}
}

// half is half the angle that the segment turns by, in [-pi/2, pi/2].
func (s *share[F]) half(own, far F) F {
	switch s.kind {
	case ofOwn:
		return F(s.own * own)
	case ofTip:
		return F(s.tip * far)
	case mixed:
		return wrapHalf(F(s.own*own) + F(s.tip*far))
	}
	return 0 // and not asked for
}

// halves is half for many.
func (s *share[F]) halves(dst []F, own, far *turns[F]) {
	switch s.kind {
	case ofOwn:
		for i, half := range own.half[:len(dst)] {
			dst[i] = F(s.own * half)
		}
	case ofTip:
		for i, half := range far.half[:len(dst)] {
			dst[i] = F(s.tip * half)
		}
	default:
		others := far.half[:len(dst)]
		for i, half := range own.half[:len(dst)] {
			dst[i] = wrapHalf(F(s.own*half) + F(s.tip*others[i]))
		}
	}
}

func (l *Law[F]) turn(q *[4]F, sin, cos F) {
	q[0], q[1], q[2], q[3] = cos, F(sin*l.axis[0]), F(sin*l.axis[1]), F(sin*l.axis[2])
}

// Angles writes each segment's angle about the axis, in radians, unwrapped.
// dst has one element per segment.
func (l *Law[F]) Angles(dst []F, own, far *Twist[F]) {
	for i := range dst {
		dst[i] = l.segments[i].angle(own.Half, far.Half)
	}
}

func (s *share[F]) angle(own, far F) F { return 2*F(s.own*own) + 2*F(s.tip*far) }
