package asset

import (
	"fmt"
	"math"

	"github.com/qmuntal/gltf"
)

// warnings tell of poses where the limb's twist is not to be trusted.
func (m *motion) warnings(tracks []*track) (out []string) {
	// At a condition of 0.05 an error of the joint's rotation comes out forty
	// times as large in the twist (2/condition), and the swing is within six
	// degrees of the half turn.
	const trusted = 0.05
	where := fmt.Sprintf("clip %q: limb %q", m.clip.name, m.limb.spec.Name)
	if m.seen.condition < trusted {
		out = append(out, fmt.Sprintf(
			"%s: near %.3f s the bone points straight away from its centre, to %.1f degrees; its segments roll fast there",
			where, m.seen.when, 4*math.Atan2(m.seen.condition, math.Sqrt(1-m.seen.condition*m.seen.condition)+1)*180/math.Pi))
	}
	// What is told is whole degrees.
	const told = math.Pi / 180
	var largest jump
	flips := 0
	for _, j := range m.seen.jumps {
		if j.angle < told || steps(tracks, j.time) {
			continue
		}
		flips++
		if j.angle > largest.angle {
			largest = j
		}
	}
	if flips > 0 {
		more := ""
		if flips > 1 {
			more = fmt.Sprintf("; it is the largest of %d such jumps", flips)
		}
		out = append(out, fmt.Sprintf(
			"%s: at %.3f s its twist passes half a turn and segments flip by up to %.0f degrees%s",
			where, largest.time, largest.angle*180/math.Pi, more))
	}
	return out
}

// steps reports whether a channel jumps at time t by its own design.
func steps(tracks []*track, t float64) bool {
	for _, k := range tracks {
		if key, _, _ := k.find(t); k.interpolation == gltf.InterpolationStep && k.times[key] == t {
			return true
		}
	}
	return false
}
