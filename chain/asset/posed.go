package asset

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// posed is a pose in which a limb is measured: a time of a clip.
type posed struct {
	name  string
	clip  *clip
	time  float64
	made  bool    // a pose that the measurement makes, not one of the character's own clips
	plain bool    // made by twist alone
	away  float64 // radians between the bone's direction and its direction at rest
}

// The twists that every limb is measured at, in degrees.
var measuredTwists = []float64{45, -45, 90, -90}

// bendTwists are those that are added to a bend half-way to the edge of the range.
var bendTwists = []float64{60, -60}

// madePose is a pose to be put into a clip: one node turned from rest.
type madePose struct {
	name  string
	turn  quat.Number
	plain bool
}

// madePoses are the poses that the measurement makes for a limb: twists, and the
// directions of its range of motion, reached by the shortest arc from rest, so that
// no twist hides in them.
func madePoses(l *limb, axis r3.Vec) (poses []madePose) {
	for _, degrees := range measuredTwists {
		poses = append(poses, madePose{name: fmt.Sprintf("twist %.0f°", degrees), turn: twist.About(axis, degrees*math.Pi/180), plain: true})
	}
	motion := l.solver.Range()
	if motion.IsZero() || l.usesTip {
		return poses
	}
	var seen []r3.Vec
	add := func(flexion, abduction float64, twists ...float64) {
		to := motion.Direction(flexion, abduction)
		arc, determined := swing.Arc(axis, to)
		const near = 0.02 // radians: the same pose to the eye
		isSeen := func(v r3.Vec) bool { return r3.Norm(r3.Sub(v, to)) < near }
		if !determined || len(twists) == 0 && slices.ContainsFunc(append(seen, axis), isSeen) {
			return
		}
		name := fmt.Sprintf("flexion %.0f°, abduction %.0f°", flexion*180/math.Pi+0, abduction*180/math.Pi+0)
		if len(twists) == 0 {
			seen = append(seen, to)
			poses = append(poses, madePose{name: name, turn: arc})
		}
		for _, degrees := range twists {
			turned := quat.Mul(arc, twist.About(axis, degrees*math.Pi/180))
			poses = append(poses, madePose{name: fmt.Sprintf("%s, twist %.0f°", name, degrees), turn: turned})
		}
	}
	for _, flexion := range stations(motion.Flexion) {
		for _, abduction := range stations(motion.Abduction) {
			add(flexion, abduction)
		}
	}
	for _, half := range [][2]float64{{motion.Flexion[1] / 2, 0}, {0, motion.Abduction[1] / 2}} {
		add(half[0], half[1], bendTwists...)
	}
	return poses
}

// stations are limits, the middles between them and 0, and 0 where it lies between.
func stations(limits [2]float64) []float64 {
	if limits[0] < 0 && limits[1] > 0 {
		return []float64{limits[0], limits[0] / 2, 0, limits[1] / 2, limits[1]}
	}
	return []float64{limits[0], (limits[0] + limits[1]) / 2, limits[1]}
}

// madeClip holds poses of one node, one a second, each at its number plus one.
func (d *finder) madeClip(node int, poses []madePose) *clip {
	k := &track{width: 4, node: node, interpolation: stepped}
	k.path, k.input, k.output = rotationPath, -1, -1
	local := d.rest[node].rotation
	put := func(q quat.Number) {
		q = quat.Mul(local, rest.Frame{Rotation: q}.Unit())
		k.times = append(k.times, float64(len(k.times)))
		k.values = append(k.values, q.Imag, q.Jmag, q.Kmag, q.Real)
	}
	put(quat.Number{Real: 1})
	for _, p := range poses {
		put(p.turn)
	}
	return &clip{name: "measured poses", index: -1, nodes: map[int]*nodeTracks{node: {rotation: k}}}
}

// How clips are looked through: so many times a second, at most so many times, and of
// those the moments that are measured: those in which the limb is twisted or bent
// most, and some at equal steps between them.
const (
	looksPerSecond = 30
	mostLooks      = 1800
	mostOfEach       = 3
	evenly         = 12
)

// clipMoments picks the moments of a clip at which the limb is to be measured. Each
// of the solutions is the limb with another field of swings, whose twists differ.
func (s *trials) clipMoments(c *clip, solutions []*limb) (out []posed) {
	l := solutions[0]
	tracks := l.tracks(c)
	if len(tracks) == 0 {
		return nil
	}
	first, last := math.Inf(1), math.Inf(-1)
	for _, k := range tracks {
		first, last = min(first, k.times[0]), max(last, k.times[len(k.times)-1])
	}
	n := int(min(math.Ceil((last-first)*looksPerSecond)+1, mostLooks))
	times := make([]float64, n)
	for i := range times {
		times[i] = first
		if n > 1 {
			times[i] += (last - first) * float64(i) / float64(n-1)
		}
	}
	picked := map[int]bool{}
	pickMost := func(value []float64) {
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value[b], value[a]) })
		taken := 0
		for _, i := range order {
			// Moments next to one that is picked already show the same pose.
			if picked[i] || picked[i-1] || picked[i+1] {
				continue
			}
			picked[i] = true
			if taken++; taken == mostOfEach {
				break
			}
		}
	}
	away := make([]float64, n)
	for k, solution := range solutions {
		m := s.motion(solution, c)
		twists := make([]float64, n)
		for i, t := range times {
			now := m.at(t)
			twists[i] = max(math.Abs(now.twists[0]), math.Abs(now.twists[1]))
			if k == 0 && l.usesOwn {
				away[i] = angleBetween(l.solver.Axis(), rest.Frame{Rotation: now.joint}.Direction(l.solver.Axis()))
			}
		}
		pickMost(twists)
	}
	pickMost(away)
	step := max(n/evenly, 1)
	for i := 0; i < n; i += step {
		picked[i] = true
	}
	for i, t := range times {
		if picked[i] {
			out = append(out, posed{name: fmt.Sprintf("%s at %.2f s", c.name, t), clip: c, time: t, away: away[i]})
		}
	}
	return out
}

// angleBetween is the angle between two unit vectors.
func angleBetween(a, b r3.Vec) float64 {
	return 2 * math.Atan2(r3.Norm(r3.Sub(a, b)), r3.Norm(r3.Add(a, b)))
}

// passesOpposite reports whether the range of motion comes within some degrees of the
// direction opposite to the bone's direction at rest, where the shortest arc from
// rest is singular.
func passesOpposite(motion chain.Range, axis r3.Vec) bool {
	const within = 25 * math.Pi / 180
	return !motion.IsZero() && motion.Beyond(r3.Scale(-1, axis)) < within
}
