package twist

import "math"

// Unwrapper makes a stream of angles continuous: it adds the whole number of
// turns that brings each to within half a turn of the one before. It is how a
// clip can twist through more than half a turn, which no single rotation can
// tell. The zero value is ready to use; it keeps state, so it serves one
// stream at a time.
//
// Turns are counted, not summed up, so nothing drifts over a long clip.
type Unwrapper struct {
	last    float64 // the last angle as given
	turns   float64 // whole turns to add to it
	started bool
}

// Next returns angle, in radians, plus the turns it takes to stay within pi of
// the last result. The first angle comes back as it is, and so does any that
// already lies within pi: a step of exactly pi adds no turn. NaN or Inf gives
// NaN and leaves the state as it was. Beyond 2^52 radians a float64 cannot
// tell one turn from the next and the result means nothing.
func (u *Unwrapper) Next(angle float64) float64 {
	if kindOf(math.Abs(angle)) == improper {
		return math.NaN()
	}
	if u.started {
		// Halved, the difference of two finite numbers cannot overflow.
		if step := 0.5*angle - 0.5*u.last; math.Abs(step) > 0.5*math.Pi {
			u.turns -= math.Round(step / math.Pi)
		}
	}
	u.last, u.started = angle, true
	return angle + u.turns*(2*math.Pi)
}

// Unwrap is [Unwrapper] over a whole sequence. It writes to dst, which may be
// angles itself, and returns it with the length of angles; a dst too short is
// replaced by a new slice.
func Unwrap(dst, angles []float64) []float64 {
	if cap(dst) < len(angles) {
		dst = make([]float64, len(angles))
	}
	dst = dst[:len(angles)]
	var u Unwrapper
	for i, angle := range angles {
		dst[i] = u.Next(angle)
	}
	return dst
}
