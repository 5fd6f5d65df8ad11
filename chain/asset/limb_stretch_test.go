package asset

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A shin that clips pull away and push back takes the thigh's skin along, which
// keeps its volume, whatever the axes, turns, mirrors and scales above.
func TestStretchFollowsTheEndJoint(t *testing.T) {
	move := func(bone [3]float64) legChannel {
		return legChannel{node: tubeShin, interpolation: "LINEAR", translations: times3(bone, 1, 1.4, 0.75)}
	}
	for name, o := range map[string]tube{
		"odd axes":                    {rotation: tubeTurn, bone: tubeBone},
		"along Y":                     {bone: [3]float64{0, 0.4, 0}},
		"against X":                   {bone: [3]float64{-0.4, 0, 0}},
		"mirrored":                    {rotation: tubeTurn, bone: tubeBone, root: []any{-1, 1, 1}},
		"own mirror and uneven scale": {bone: tubeBone, rotation: tubeTurn, scale: []any{-1, 2, 0.5}},
		"tenths of millimetres":       {bone: tubeBone, rotation: tubeTurn, root: []any{1e-4, 1e-4, 1e-4}},
	} {
		t.Run(name, func(t *testing.T) {
			o.times, o.animation = []float64{0, 1, 2}, []legChannel{move(o.bone), tubeSway}
			limb := thighLimb()
			limb.Stretch = &Stretch{}
			c := splitTube(t, o, limb)
			_, places, sizes := c.channels()
			require.Equal(t, 2, places, "the first segment stays at the root")
			require.Equal(t, 3, sizes)
			bone := mgl64.Vec3(o.bone)
			for _, at := range tubeTimes {
				ratio := 1 + 0.4*at
				if at > 1 {
					ratio = 1.4 - 0.65*(at-1)
				}
				for ring := range 3 {
					middle, radius := c.ring(ring, at)
					want := bone.Mul(ratio * float64(ring) / 2)
					require.InDelta(t, 0, middle.Sub(want).Len(), c.skinTolerance(), "ring %d at %g s", ring, at)
					if ring != 1 { // the middle one is blended, and wrung by the twist
						require.InDelta(t, tubeRadius/math.Sqrt(ratio), radius, c.skinTolerance(), "ring %d at %g s", ring, at)
					}
				}
			}
			require.InDelta(t, 0.75, c.report.Limbs[0].StretchLeast, 1e-6)
			require.InDelta(t, 1.4, c.report.Limbs[0].StretchMost, 1e-6)
			require.Empty(t, c.report.OutOfReach)
			require.Less(t, c.report.Clips[0].ShapeErrorMax, DefaultTolerance*c.report.Limbs[0].Length)
			require.Positive(t, c.report.Clips[0].ShapeErrorMax)
			require.LessOrEqual(t, c.report.Clips[0].ErrorMaxDeg, 0.05)
		})
	}
}

// The end ring turns with its joint, the root ring keeps its twist out, just as
// they do without a stretch.
func TestStretchLeavesTheTwistAlone(t *testing.T) {
	o := tube{rotation: tubeTurn, bone: tubeBone, times: []float64{0, 1, 2}, animation: []legChannel{tubeSway}}
	plain, limb := splitTube(t, o, thighLimb()), thighLimb()
	limb.Stretch = &Stretch{}
	stretched := splitTube(t, o, limb)
	for _, at := range tubeTimes {
		a, b := plain.after.Vertices(plain.after.World(0, at)), stretched.after.Vertices(stretched.after.World(0, at))
		require.LessOrEqual(t, farthest(a, b), 1e-6, "at %g s", at)
	}
	turns, places, sizes := stretched.channels()
	require.Equal(t, []int{2, 0, 0}, []int{turns, places, sizes}, "nothing changes length")
}

// A clip whose shin stays where it is bakes no shape; a file without the keys
// has no trace of them.
func TestNoShapeWithoutChange(t *testing.T) {
	o := tube{bone: [3]float64{0, 0.4, 0}, times: []float64{0, 1}, animation: []legChannel{{node: tubeShin, interpolation: "LINEAR", translations: []float64{0, 0.4, 0, 0, 0.4, 0}}}}
	plain, limb := splitTube(t, o, thighLimb()), thighLimb()
	limb.Stretch = &Stretch{}
	limb.Crease = &Crease{At: CreaseAtEnd, Most: 0.02}
	shaped := splitTube(t, o, limb)
	a, err := plain.out.Encode(true, false)
	require.NoError(t, err)
	b, err := shaped.out.Encode(true, false)
	require.NoError(t, err)
	require.Equal(t, a, b, "the bone lies along Y, so no segment has to turn, and nothing moves")
	require.InDelta(t, 1, shaped.report.Limbs[0].StretchMost, 1e-7)
	require.Zero(t, plain.report.Limbs[0].StretchMost)
}

func TestStretchSteps(t *testing.T) {
	o := tube{rotation: tubeTurn, bone: tubeBone, times: []float64{0, 1, 2}, animation: []legChannel{{node: tubeShin, interpolation: "STEP", translations: times3(tubeBone, 1, 1.4, 1.4)}}}
	limb := thighLimb()
	limb.Stretch = &Stretch{}
	c := splitTube(t, o, limb)
	track := c.after.clips[0].nodes[c.after.Node("thigh_segment3")].translation
	require.Equal(t, gltf.InterpolationStep, track.interpolation)
	require.Equal(t, []float64{0, 1}, track.times, "a key that changes nothing goes")
	for at, ratio := range map[float64]float64{0: 1, 0.99: 1, 1: 1.4, 2: 1.4} {
		middle, _ := c.ring(2, at)
		require.InDelta(t, 0, middle.Sub(mgl64.Vec3(tubeBone).Mul(ratio)).Len(), 1e-6)
	}
}

// Splines are sampled, and a step among steady channels stays one.
func TestStretchSplinesAndJumps(t *testing.T) {
	zero := []float64{0, 0, 0}
	spline := func(factors ...float64) (out []float64) {
		for _, k := range factors {
			out = append(append(append(out, zero...), times3(tubeBone, k)...), times3(tubeBone, 0.5)...)
		}
		return out
	}
	o := tube{rotation: tubeTurn, bone: tubeBone, times: []float64{0, 1, 2}, animation: []legChannel{
		{node: tubeShin, interpolation: "CUBICSPLINE", translations: spline(1, 1.4, 0.8)},
		{node: tubeShin, interpolation: "STEP", scales: []float64{1, 1, 1, 1, 1, 1, 1, 1, 1}},
		{node: tubeThigh, interpolation: "LINEAR", scales: []float64{1, 1, 1, 2, 2, 2, 1, 1, 1}},
	}}
	limb := thighLimb()
	limb.Stretch = &Stretch{}
	c := splitTube(t, o, limb)
	for _, at := range tubeTimes {
		world := c.before.World(0, at)
		want := seenFrom(world[tubeThigh], world[tubeShin].Col(3).Vec3())
		middle, _ := c.ring(2, at)
		require.InDelta(t, 0, middle.Sub(want).Len(), c.skinTolerance(), "at %g s", at)
	}

	o.animation = []legChannel{
		{node: tubeShin, interpolation: "LINEAR", translations: times3(tubeBone, 1, 1.2, 1)},
		{node: tubeThigh, interpolation: "STEP", translations: []float64{0.1, 0, 0, 0.1, 0, 0, 0.1, -0.1, 0}},
	}
	limb.Stretch = &Stretch{By: "goal"}
	c = splitTube(t, o, limb)
	ratio := func(at float64) float64 {
		world := c.before.World(0, at)
		rest := c.before.World(-1, 0)
		return world[tubeThigh].Col(3).Vec3().Sub(world[tubeGoal].Col(3).Vec3()).Len() / rest[tubeThigh].Col(3).Vec3().Sub(rest[tubeGoal].Col(3).Vec3()).Len()
	}
	require.InDelta(t, 0.9, ratio(2), 1e-6, "the thigh falls by a tenth towards the goal at its foot")
	for _, at := range []float64{0, 1, 1.9999, 2} {
		middle, _ := c.ring(2, at)
		require.InDelta(t, 0, middle.Sub(mgl64.Vec3(tubeBone).Mul(ratio(at))).Len(), c.skinTolerance(), "at %g s", at)
	}
}

// Shares, section and limits are those of the limb file; what is out of reach is
// told.
func TestStretchSettings(t *testing.T) {
	bone := [3]float64{0, 0.4, 0}
	o := tube{bone: bone, times: []float64{0, 1, 2}, animation: []legChannel{{node: tubeShin, interpolation: "LINEAR", translations: times3(bone, 1, 1.6, 0.5)}}}
	limb := thighLimb()
	limb.Stretch = &Stretch{Limits: [2]float64{0.8, 1.5}, Shares: []float64{0, 0.25, 0.75}, Exponent: new(0.)}
	c := splitTube(t, o, limb)
	middle, radius := c.ring(2, 1)
	require.InDelta(t, 0.6, middle[1], c.skinTolerance())
	require.InDelta(t, tubeRadius, radius, 1e-6, "an exponent of 0 keeps the section")
	scales := c.after.clips[0].nodes[c.after.Node("thigh_segment3")].scale.vector(1)
	require.InDelta(t, 1+3*0.75*0.5, scales[1], 2*DefaultTolerance)
	require.Nil(t, c.after.clips[0].nodes[c.after.Node("thigh_segment1")], "which has no share")

	require.Len(t, c.report.OutOfReach, 1)
	out := c.report.OutOfReach[0]
	require.InDelta(t, -0.3*0.4, out.Short, 1e-6)
	require.Equal(t, OutOfReach{Clip: "move", Limb: "thigh", Target: "shin", Time: 2, Short: out.Short}, out)
	require.InDelta(t, 0.8, c.report.Limbs[0].StretchLeast, 1e-9)
	require.InDelta(t, 1.5, c.report.Limbs[0].StretchMost, 1e-9)
}

// The smallest turn lays an axis along the bone: none where one lies there.
func TestAlongAxis(t *testing.T) {
	for _, v := range []r3.Vec{{X: 1}, {Y: -1}, {Z: 1}} {
		_, turn := alongAxis(v)
		require.Equal(t, quat.Number{Real: 1}, turn)
	}
	column, turn := alongAxis(r3.Unit(r3.Vec{X: 0.1, Y: 0.3, Z: -0.8}))
	require.Equal(t, 2, column)
	l := limb{turn: turn}
	require.True(t, l.isTurned())
	require.Less(t, 2*math.Atan2(math.Hypot(math.Hypot(turn.Imag, turn.Jmag), turn.Kmag), turn.Real), 22*math.Pi/180)
	require.False(t, isEven(mgl64.Mat3{}))
	require.True(t, isEven(mgl64.Diag3(mgl64.Vec3{-2, 2, 2})))
	require.False(t, isEven(mgl64.Mat3{1, 0, 0, 0.01, 1, 0, 0, 0, 1}), "sheared")
}
