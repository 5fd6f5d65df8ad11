package asset

import (
	"math"

	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// history is the twist of a limb over a clip as it comes about, instead of as
// each pose alone has it. From one moment to the next the bone is carried the
// shortest way to its new direction, and what the joint turns beyond that is
// twist. So it passes half a turn without a flip, and a bone that points
// straight away from its centre is a place like any other.
//
// It begins with what the pose has at the clip's first key. Carried round a
// closed loop it does not come back: it is off by the solid angle that the loop
// encloses (Gauss and Bonnet; for shoulders Yoon 2014, Adv Biomech Appl 1(2):
// 85-93). In a clip that ends as it began, that closing error is taken off
// little by little, in proportion to the time. Whole turns that the joint really
// makes on the way are no error and stay: how many, the twist of the poses
// themselves tells, which is back where it was but for them.
type history struct {
	moments []moment
	closing [2]float64 // radians of the own twist and of the tip's, taken off over the clip
	turns   [2]int     // whole turns in a clip that ends as it began
}

// moment is a limb at one time: its rotations, the twists carried along so far
// and those that the poses have, each own and of the tip, in radians and going on
// past half a turn.
type moment struct {
	time         float64
	turns        [2]quat.Number
	twists, pose [2]float64
}

const (
	// historyStep is the most that a joint turns between two moments. A
	// shortest arc leaves out the solid angle between itself and the way
	// taken, less than step^2/12 of a radian for each radian of way: 1e-4.
	historyStep = 2 * math.Pi / 180
	// mostMoments bounds what a clip can ask for, between two of its keys.
	mostMoments = 1 << 14
	// closed is how near its beginning a loop has to end.
	closed = 0.5 * math.Pi / 180
)

// remember follows a limb through a clip, from the first of the times to the
// last.
func (m *motion) remember(times []float64) *history {
	h := &history{}
	first := m.at(times[0])
	h.moments = []moment{{time: first.time, turns: [2]quat.Number{first.joint, first.tip}, twists: first.twists, pose: first.twists}}
	for _, t := range times[1:] {
		h.follow(m, t, mostMoments)
	}
	begin, end := h.moments[0], h.moments[len(h.moments)-1]
	if end.time > begin.time && turn(begin.turns[0], end.turns[0]) < closed && turn(begin.turns[1], end.turns[1]) < closed {
		for i := range h.closing {
			h.turns[i] = int(math.Round((end.pose[i] - begin.pose[i]) / (2 * math.Pi)))
			h.closing[i] = end.twists[i] - begin.twists[i] - 2*math.Pi*float64(h.turns[i])
		}
	}
	return h
}

// follow appends the moment t and, before it, what lies between; it returns how
// many more moments there may be.
func (h *history) follow(m *motion, t float64, most int) int {
	last := h.moments[len(h.moments)-1]
	now := m.at(t)
	next := moment{time: t, turns: [2]quat.Number{now.joint, now.tip}}
	middle := between(last.time, t, 0.5)
	if max(turn(last.turns[0], now.joint), turn(last.turns[1], now.tip)) > historyStep && middle != last.time && middle != t && most > 0 {
		most = h.follow(m, middle, most-1)
		return h.follow(m, t, most-1)
	}
	next.twists = h.carried(m, &last, &next)
	for i := range next.pose {
		next.pose[i] = last.pose[i] + math.Remainder(now.twists[i]-last.pose[i], 2*math.Pi)
	}
	h.moments = append(h.moments, next)
	return most
}

// carried is the twists at a moment, from those of one just before.
func (h *history) carried(m *motion, from, to *moment) [2]float64 {
	out := from.twists
	axis := m.limb.solver.Axis()
	for i := range out {
		if from.turns[i] == (quat.Number{}) { // there is no tip
			continue
		}
		out[i] += carriedTwist(axis, from.turns[i], to.turns[i])
	}
	return out
}

// carriedTwist is by how much a joint turns about its axis from one rotation to
// the next, beyond carrying the axis the shortest way.
func carriedTwist(axis r3.Vec, from, to quat.Number) float64 {
	points := func(q quat.Number) r3.Vec { return rest.Frame{Rotation: q}.Direction(axis) }
	arc, _ := swing.Arc(points(from), points(to))
	angle, _ := twist.Angle(quat.Mul(quat.Conj(quat.Mul(arc, from)), to), axis)
	return angle
}

// twists are those of a sample, by the moment just before it.
func (h *history) twists(m *motion, s *sample) [2]float64 {
	low, high := 0, len(h.moments)
	for low+1 < high {
		if middle := (low + high) / 2; h.moments[middle].time <= s.time {
			low = middle
		} else {
			high = middle
		}
	}
	from := &h.moments[low]
	out := h.carried(m, from, &moment{time: s.time, turns: [2]quat.Number{s.joint, s.tip}})
	begin, end := h.moments[0].time, h.moments[len(h.moments)-1].time
	for i := range out {
		if end > begin {
			out[i] -= h.closing[i] * (s.time - begin) / (end - begin)
		}
	}
	return out
}
