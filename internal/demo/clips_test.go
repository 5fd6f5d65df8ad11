package demo

import (
	"math"
	"slices"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func single4(q [4]float32) quat.Number {
	return rotation([4]float64{float64(q[0]), float64(q[1]), float64(q[2]), float64(q[3])})
}

// fromRest is how far a joint has turned from rest, along the world's axes at
// rest: with P and W the rest rotations of parent and joint and K the key, P K W*.
func (c *character) fromRest(node int, key [4]float32) quat.Number {
	parent := quat.Number{Real: 1}
	if p, ok := c.parent[node]; ok {
		_, parent = c.world(p)
	}
	_, own := c.world(node)
	return quat.Mul(quat.Mul(parent, single4(key)), quat.Conj(own))
}

func vector(q quat.Number) r3.Vec { return r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag} }

func TestClipsKeepTime(t *testing.T) {
	c := readWren(t)
	require.Len(t, c.doc.Animations, 4)
	for _, clip := range c.doc.Animations {
		for _, s := range clip.Samplers {
			require.Equal(t, gltf.InterpolationLinear, s.Interpolation)
			data, err := modeler.ReadAccessor(c.doc, c.doc.Accessors[s.Input], nil)
			require.NoError(t, err)
			times := data.([]float32)
			require.Zero(t, times[0])
			last := float64(times[len(times)-1])
			require.GreaterOrEqual(t, last, 2.0)
			require.LessOrEqual(t, last, 4.0)
			for k, x := range times {
				require.Equal(t, float32(float64(k)/30), x)
			}
			require.Equal(t, len(times), c.doc.Accessors[s.Output].Count)
		}
	}
}

// Keys are unit, neighbours lie on the same side of the double cover, and no
// joint turns more than 16 degrees between keys or jerks: the speed changes by
// less than 3 degrees a key.
func TestClipsAreSmooth(t *testing.T) {
	c := readWren(t)
	for _, clip := range c.doc.Animations {
		for _, ch := range clip.Channels {
			keys := c.keys(t, clip, *ch.Target.Node)
			var before float64
			for k, key := range keys {
				q := single4(key)
				require.InDelta(t, 1, quat.Abs(q), 1e-6)
				if k == 0 {
					continue
				}
				p := single4(keys[k-1])
				step := quat.Mul(q, quat.Conj(p))
				require.Positive(t, step.Real)
				turned := 2 * math.Atan2(r3.Norm(vector(step)), step.Real) / degree
				require.Less(t, turned, 16.0, "%s: %s at key %d", clip.Name, c.doc.Nodes[*ch.Target.Node].Name, k)
				require.Less(t, math.Abs(turned-before), 3.0, "%s: %s at key %d", clip.Name, c.doc.Nodes[*ch.Target.Node].Name, k)
				before = turned
			}
		}
	}
}

// Elbows and knees turn about one axis, which does not depend on the clip.
func TestHingesAreClean(t *testing.T) {
	c := readWren(t)
	axes := map[string]r3.Vec{
		"forearm_l": elbowHinge, "shin_l": kneeHinge,
		// An axis of turning is a pseudovector.
		"forearm_r": r3.Scale(-1, mirror(elbowHinge)), "shin_r": r3.Scale(-1, mirror(kneeHinge)),
	}
	require.Len(t, Hinges, len(axes))
	bent := map[string]float64{}
	for _, clip := range c.doc.Animations {
		for _, name := range Hinges {
			for _, key := range c.keys(t, clip, c.node[name]) {
				v := vector(c.fromRest(c.node[name], key))
				along := r3.Dot(v, axes[name])
				// float32 keys leave 2^-24 in each component.
				require.Less(t, r3.Norm(r3.Sub(v, r3.Scale(along, axes[name]))), 1e-6, "%s: %s", clip.Name, name)
				// Elbows and knees do not bend the wrong way.
				require.GreaterOrEqual(t, along, -1e-6, "%s: %s", clip.Name, name)
				bent[name] = max(bent[name], 2*math.Asin(along)/degree)
			}
		}
	}
	require.Greater(t, bent["forearm_l"], 70.0)
	require.Greater(t, bent["shin_l"], 90.0)
}

// peak gives the greatest value of something over a clip's keys.
func peak(c *character, t *testing.T, clip, joint string, of func(quat.Number) float64) float64 {
	t.Helper()
	keys := c.keys(t, c.clip(t, clip), c.node[joint])
	require.NotEmpty(t, keys)
	best := math.Inf(-1)
	for _, key := range keys {
		best = max(best, of(c.fromRest(c.node[joint], key)))
	}
	return best
}

func TestClipsShowWhatTheyClaim(t *testing.T) {
	c := readWren(t)
	arm := r3.Unit(r3.Sub(c.at("forearm_l"), c.at("upper_arm_l")))
	swing := func(q quat.Number) float64 { return angle(arm, rotate(q, arm)) / degree }
	require.Greater(t, peak(c, t, OverheadReach, "upper_arm_l", swing), 120.0)
	overhead := func(q quat.Number) float64 { return rotate(q, arm).Y }
	require.Greater(t, peak(c, t, OverheadReach, "upper_arm_l", overhead), 0.95)

	thigh := r3.Vec{Y: -1}
	raised := func(q quat.Number) float64 { return angle(thigh, rotate(q, thigh)) / degree }
	require.InDelta(t, 110, peak(c, t, HighStep, "thigh_l", raised), 1)
	swayed := func(q quat.Number) float64 {
		d := rotate(q, thigh)
		if d.Y < 0 {
			return 0 // azimuth means little before the thigh is level
		}
		return math.Atan2(d.X, d.Z) / degree
	}
	require.InDelta(t, 35, peak(c, t, HighStep, "thigh_l", swayed), 1)

	forearm := r3.Unit(r3.Sub(c.at("hand_l"), c.at("forearm_l")))
	twist := func(q quat.Number) float64 {
		return 2 * math.Atan2(r3.Dot(vector(q), forearm), q.Real) / degree
	}
	require.InDelta(t, 75, peak(c, t, ForearmWring, "hand_l", twist), 2)
	require.InDelta(t, 75, peak(c, t, ForearmWring, "hand_l", func(q quat.Number) float64 { return -twist(q) }), 2)
	bend := func(q quat.Number) float64 { return angle(forearm, rotate(q, forearm)) / degree }
	require.Greater(t, peak(c, t, ForearmWring, "hand_l", bend), 15.0)
}

// Every limb names joints that exist, and a moment inside its clip.
func TestLimbsNameWhatIsThere(t *testing.T) {
	c := readWren(t)
	for _, limb := range Limbs {
		for _, name := range []string{limb.Joint, limb.End} {
			require.Contains(t, c.node, name)
		}
		require.Equal(t, c.node[limb.Joint], c.parent[c.node[limb.End]])
		if limb.Tip != "" {
			require.Contains(t, c.node, limb.Tip)
		}
		if limb.Clip != "" {
			clip := c.clip(t, limb.Clip)
			require.Less(t, limb.Moment, c.doc.Accessors[clip.Samplers[0].Input].Max[0])
			moved := limb.Joint
			if limb.Tip != "" {
				moved = limb.Tip
			}
			require.NotEmpty(t, c.keys(t, clip, c.node[moved]))
		}
	}
	require.True(t, slices.ContainsFunc(Limbs, func(l Limb) bool { return l.Clip != "" }))
}

// The standing foot stays where it is.
func TestStandingFootIsPlanted(t *testing.T) {
	js := skeleton()
	for _, c := range clips() {
		for k := range 31 {
			p := c.at(float64(k) / 30)
			at, _ := p.place(js)
			require.InDelta(t, 0, r3.Norm(r3.Sub(at[footR], js[footR].at)), 1e-12, c.name)
		}
	}
}
