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
	var flips []jump
	for _, j := range m.seen.jumps {
		if steps(tracks, j.time) {
			continue
		}
		flips = append(flips, j)
	}
	if len(flips) > 0 {
		more := ""
		if n := len(flips) - 1; n > 0 {
			more = fmt.Sprintf(" (and %d times more)", n)
		}
		out = append(out, fmt.Sprintf(
			"%s: at %.3f s its twist passes half a turn and segments flip by up to %.0f degrees%s",
			where, flips[0].time, flips[0].angle*180/math.Pi, more))
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
