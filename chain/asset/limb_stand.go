package asset

import "math"

// ways are the descents whose rotations decide how the limb's segments turn.
func (l *limb) ways() []descent {
	if l.spec.Twist == TwistTip {
		return []descent{l.tipTurn.way}
	}
	return []descent{l.anchorTurn.way, l.jointTurn.way}
}

// shapeWays are the descents that decide where its segments stand and what size
// they have.
func (l *limb) shapeWays() (out []descent) {
	if x := l.stretching; x != nil {
		out = append(out, x.toJoint.way, x.toTarget.way)
	}
	if x := l.creasing; x != nil {
		out = append(out, x.fold.way)
	}
	return out
}

// stand gives a limb's segments the transforms that their nodes are to hold: the
// solver's answer for the node pose. A viewer shows it without a clip, and a clip
// that moves nothing of the limb needs no channel. Where the node pose is the bind
// pose, segments stand as they are bound. What is as near to that as a reader takes
// for noise of the bind pose is left so.
func (s *splitter) stand(l *limb) {
	for i := range l.segments {
		l.segments[i].turn, l.segments[i].shape = l.turn, atRest
	}
	const clear = 2 // times the noise
	if s.source.anyPosed(l.ways()...) {
		twists := s.motion(l, nodePose).at(0).twists
		for i := range l.segments {
			if angle := l.shares[i].of(twists); l.segments[i].moves && math.Abs(angle) > clear*bindNoise {
				l.segments[i].turn = l.turned(i, twists[:])
			}
		}
	}
	if s.source.anyPosed(l.shapeWays()...) {
		m := shapeMotion{limb: l, clip: nodePose}
		numbers := m.at(0).numbers
		for i := range l.segments {
			v, shape := numbers[shapeNumbers*i:shapeNumbers*(i+1)], &l.segments[i].shape
			if max(math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2]))*l.metres > clear*s.source.noise {
				copy(shape[:3], v[:3])
			}
			if max(math.Abs(v[3]-1), math.Abs(v[4]-1)) > clear*bindNoise {
				copy(shape[3:], v[3:])
			}
		}
	}
}
