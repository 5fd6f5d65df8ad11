package asset

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// posed is a pose in which a limb is measured. It holds what measuring takes, and no
// clip: those of a library do not fit into memory together.
type posed struct {
	name  string
	made  bool    // a pose that the measurement makes, not one of the character's own clips
	plain bool    // made by twist alone
	away  float64 // radians between the bone's direction and its direction at rest
	world []mgl64.Mat4
	whole float64 // strain of all of the source's skin; 0 until it is asked for
	// twists are those of every limb, its joint's and its tip's: as its own settings
	// have it swing, and by the shortest arc.
	twists [][2][2]float64
}

// most is the greatest twist of a limb.
func (m *posed) most(limb int) (most float64) {
	for _, twists := range m.twists[limb] {
		most = max(most, math.Abs(twists[0]), math.Abs(twists[1]))
	}
	return most
}

// The twists that every limb is measured at, in degrees.
var measuredTwists = []float64{45, -45, 90, -90}

// madePose is a pose to be put into a clip: one node turned from rest.
type madePose struct {
	name  string
	turn  quat.Number
	plain bool
}

// madePoses are the poses that the measurement makes for a limb: twists, and the
// directions of its range of motion, reached by the shortest arc from rest, so that
// no twist hides in them.
func madePoses(l *limb, axis r3.Vec) []madePose {
	motion := l.solver.Range()
	if l.usesTip {
		motion = chain.Range{}
	}
	return posesWithin(motion, axis)
}

// posesWithin are madePoses of a bone that points along the axis; a range that is zero
// gives the twists alone.
func posesWithin(motion chain.Range, axis r3.Vec) (poses []madePose) {
	for _, degrees := range measuredTwists {
		poses = append(poses, madePose{name: fmt.Sprintf("twist %.0f°", degrees), turn: twist.About(axis, degrees*math.Pi/180), plain: true})
	}
	if motion.IsZero() {
		return poses
	}
	var seen []r3.Vec
	add := func(flexion, abduction float64) {
		to := motion.Direction(flexion, abduction)
		arc, determined := swing.Arc(axis, to)
		const near = 0.02 // radians: the same pose to the eye
		isSeen := func(v r3.Vec) bool { return r3.Norm(r3.Sub(v, to)) < near }
		if !determined || slices.ContainsFunc(append(seen, axis), isSeen) {
			return
		}
		seen = append(seen, to)
		name := fmt.Sprintf("flexion %.0f°, abduction %.0f°", math.Round(flexion*180/math.Pi)+0, math.Round(abduction*180/math.Pi)+0) // never -0
		poses = append(poses, madePose{name: name, turn: arc})
	}
	for _, flexion := range stations(motion.Flexion) {
		for _, abduction := range stations(motion.Abduction) {
			add(flexion, abduction)
		}
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

// madeClip holds poses of one node, one a second, each at its number plus one. Every
// other node is held at rest.
func (d *finder) madeClip(node int, poses []madePose) *clip {
	c := &clip{name: "measured poses", index: -1, nodes: map[int]*nodeTracks{}}
	for other, posed := range d.poses.posed {
		if posed {
			at := d.poses.rest[other]
			c.nodes[other] = &nodeTracks{
				rotation:    held(at.rotation.Imag, at.rotation.Jmag, at.rotation.Kmag, at.rotation.Real),
				translation: held(at.translation[:]...),
				scale:       held(at.scale[:]...),
			}
		}
	}
	local := d.poses.rest[node].rotation
	k := held(local.Imag, local.Jmag, local.Kmag, local.Real)
	for _, p := range poses {
		q := quat.Mul(local, rest.Frame{Rotation: p.turn}.Unit())
		k.times = append(k.times, float64(len(k.times)))
		k.values = append(k.values, q.Imag, q.Jmag, q.Kmag, q.Real)
	}
	if c.nodes[node] == nil {
		c.nodes[node] = &nodeTracks{}
	}
	c.nodes[node].rotation = k
	return c
}

// held is a track of one key, which holds still.
func held(value ...float64) *track {
	return &track{width: len(value), interpolation: gltf.InterpolationStep, input: -1, output: -1, times: []float64{0}, values: value}
}

// How clips are looked through: so many times a second, at most so many times, and of
// those the moments that are measured: those in which the limb is twisted or bent or
// its skin strained most, and some at equal steps between them.
const (
	looksPerSecond = 30
	mostLooks      = 1800
	mostOfEach     = 2
	evenly         = 9
)

// Where no segment turns the skin is as it was, but for vertices of which other joints
// gave way to make room for segments: one of some such moments will do.
const (
	stillTwist = 1 * math.Pi / 180
	stillOnes  = 4
)

// lookThrough picks the moments of a clip at which a limb is to be measured.
func (c *chooser) lookThrough(k *clip, motions [][]*motion, s *subject) (out []posed) {
	l := s.limb
	tracks := l.tracks(k)
	if len(tracks) == 0 {
		return nil
	}
	first, last := math.Inf(1), math.Inf(-1)
	for _, x := range tracks {
		first, last = min(first, x.times[0]), max(last, x.times[len(x.times)-1])
	}
	n := int(min(math.Ceil((last-first)*looksPerSecond)+1, mostLooks))
	times, away := make([]float64, n), make([]float64, n)
	for i := range times {
		times[i] = first
		if n > 1 {
			times[i] += (last - first) * float64(i) / float64(n-1)
		}
	}
	picked := picks{}
	twists := make([]float64, n)
	for _, m := range motions[s.number] {
		for i, t := range times {
			now := m.at(t)
			twists[i] = max(math.Abs(now.twists[0]), math.Abs(now.twists[1]))
			if l.usesOwn {
				away[i] = angleBetween(l.solver.Axis(), rotated(now.joint, l.solver.Axis()))
			}
		}
		picked.most(twists)
	}
	picked.most(away)
	picked.most(c.strainsAt(k, s, times))
	for i := 0; i < n; i += max(n/evenly, 1) {
		picked[i] = true
	}
	still := 0
	for i, t := range times {
		if picked[i] {
			m := c.posedAt(fmt.Sprintf("%s at %.2f s", k.name, t), k, motions, t)
			m.away = away[i]
			if m.most(s.number) < stillTwist {
				if still++; still%stillOnes != 1 {
					continue
				}
			}
			out = append(out, m)
		}
	}
	return out
}

// strainsAt is the strain of the source's skin, by a sample, at every strainStep-th of
// the times.
func (c *chooser) strainsAt(k *clip, s *subject, times []float64) []float64 {
	const strainStep = 5
	out := make([]float64, len(times))
	step := max(strainStep, len(times)/mostStrained)
	var palette []mgl64.Mat4
	posed := make([]r3.Vec, len(s.sample.positions))
	var sums []float64
	for i := 0; i < len(times); i += step {
		palette = c.palette(palette, c.source.world(c.file, c.source.order, k, times[i]))
		s.sample.pose(posed, &s.sample.source, palette)
		sums = s.sample.strains(sums, posed, c.shrink(s.limb.joint, palette))
		out[i] = total(sums)
	}
	return out
}

// mostStrained is at how many times of a clip the strain is looked at.
const mostStrained = 200

// motions are those of all limbs' solutions in a clip.
func (c *chooser) motions(k *clip) (out [][]*motion) {
	for _, s := range c.subjects {
		var ms []*motion
		for _, l := range s.solutions {
			ms = append(ms, c.motion(l, k))
		}
		out = append(out, ms)
	}
	return out
}

// picks are numbers of looks at a clip.
type picks map[int]bool

// most adds those of the greatest value. Looks next to one that is picked already show
// the same pose.
func (p picks) most(value []float64) {
	order := everything(len(value))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value[b], value[a]) })
	taken := 0
	for _, i := range order {
		if p[i] || p[i-1] || p[i+1] {
			continue
		}
		p[i] = true
		if taken++; taken == mostOfEach {
			return
		}
	}
}

// posedAt is a time of a clip.
func (c *chooser) posedAt(name string, k *clip, motions [][]*motion, t float64) posed {
	m := posed{name: name, world: c.source.world(c.file, c.source.order, k, t), twists: make([][2][2]float64, len(c.subjects))}
	for i := range motions {
		for j, motion := range motions[i] {
			m.twists[i][j] = motion.at(t).twists
		}
	}
	return m
}

// mostPosed is how many moments of clips are measured for a limb.
const mostPosed = 240

// thinned keeps the moments that twist or bend a limb most, and of the others as many
// at equal steps as there is room for.
func (s *subject) thinned(all []posed) []posed {
	if len(all) <= mostPosed {
		return all
	}
	order := everything(len(all))
	keep := map[int]bool{}
	for _, value := range []func(i int) float64{
		func(i int) float64 { return all[i].most(s.number) },
		func(i int) float64 { return all[i].away },
	} {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(b), value(a)) })
		for _, i := range order[:mostPosed/3] {
			keep[i] = true
		}
	}
	step := float64(len(all)) / float64(mostPosed-len(keep))
	for i := 0.; i < float64(len(all)) && len(keep) < mostPosed; i += step {
		keep[int(i)] = true
	}
	var out []posed
	for i := range all {
		if keep[i] {
			out = append(out, all[i])
		}
	}
	return out
}

// passesOpposite reports whether the range of motion comes within some degrees of the
// direction opposite to the bone's direction at rest, where the shortest arc from
// rest is singular.
func passesOpposite(motion chain.Range, axis r3.Vec) bool {
	const within = 5 * math.Pi / 180
	return !motion.IsZero() && motion.Beyond(r3.Scale(-1, axis)) < within
}
