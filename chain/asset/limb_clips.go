package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// mostDirections is how many places of a limb are looked at in all clips together: a
// range's limits need no more, and a library of long clips has millions of keys.
const mostDirections = 4000

// tellTurn is by how much a clip has to turn a bone from rest to turn it at all, in
// radians: less is rounding, or breathing.
const tellTurn = math.Pi / 180

// clipDirections are the directions that a bone takes in a clip.
type clipDirections struct {
	clip       string
	directions []r3.Vec
}

// directions are the directions that the bone takes in its anchor's frame: the one at rest,
// then those in the clips in the order of the file, each at its keys and between
// them, by time. Clips that move neither anchor nor joint say nothing, and where
// there are more times than can be looked at each clip has its part of them.
func (d *finder) directions(spec *chain.Limb, l *limb) []clipDirections {
	atRest := rest.Offset(spec.AnchorRest, spec.JointRest).Direction(spec.Axis)
	out := []clipDirections{{"", []r3.Vec{r3.Unit(atRest)}}}
	var clips []*clip
	var times [][]float64
	for i := range d.clips {
		c := &d.clips[i]
		if tracks := append(l.anchorTurn.tracks(c), l.jointTurn.tracks(c)...); len(tracks) > 0 {
			clips, times = append(clips, c), append(times, keyTimes(tracks))
		}
	}
	for i, c := range clips {
		at := withBetween(times[i], max(mostDirections/len(clips), 2))
		anchors, joints, spare := make([]quat.Number, len(at)), make([]quat.Number, len(at)), make([]quat.Number, len(at))
		anchor, joint := l.anchorTurn.walkIn(c), l.jointTurn.walkIn(c)
		anchor.rotations(anchors, spare, at)
		joint.rotations(joints, spare, at)
		t := clipDirections{c.name, make([]r3.Vec, len(at))}
		for k := range at {
			q := rest.Frame{Rotation: quat.Mul(quat.Conj(anchors[k]), joints[k])}
			t.directions[k] = r3.Unit(q.Direction(spec.Axis))
		}
		out = append(out, t)
	}
	return out
}

// mostParts is how many parts the time from one key to the next is looked at in: a turn of
// 120 degrees in steps of 15, between which a bone leaves its way by a degree at most.
const mostParts = 8

// withBetween are times and some between them, most at most, evenly chosen.
func withBetween(times []float64, most int) []float64 {
	parts := mostParts
	for parts > 1 && parts*(len(times)-1) >= most {
		parts /= 2
	}
	n := parts*(len(times)-1) + 1
	at := func(i int) float64 {
		k, part := i/parts, i%parts
		if part == 0 {
			return times[k]
		}
		return between(times[k], times[k+1], float64(part)/float64(parts))
	}
	out := make([]float64, min(n, most))
	for i := range out {
		if n <= most {
			out[i] = at(i)
		} else {
			out[i] = at(i * (n - 1) / (most - 1))
		}
	}
	return out
}

// turned reports whether any of the directions is another than the first.
func turned(directions []r3.Vec) bool {
	for _, d := range directions {
		if angleBetween(d, directions[0]) > tellTurn {
			return true
		}
	}
	return false
}

func angleBetween(a, b r3.Vec) float64 {
	return 2 * math.Atan2(r3.Norm(r3.Sub(a, b)), r3.Norm(r3.Add(a, b)))
}
