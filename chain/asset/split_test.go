package asset_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/stretchr/testify/require"
)

var allClips = []string{"twist thigh", "twist upper arm", "bend hand", "turn hand", "swing", "step", "wild"}

// variants are characters as files in the wild come.
var variants = map[string]fixture.Options{
	"plain":            {},
	"level":            {Axes: fixture.Level},
	"odd-axes":         {Axes: fixture.Odd},
	"children-first":   {ChildrenFirst: true, Axes: fixture.Odd},
	"ubyte-weights":    {Weights: fixture.UByte},
	"ushort-weights":   {Weights: fixture.UShort, Joints: fixture.UShort},
	"short-rotations":  {Rotations: fixture.Short, Axes: fixture.Odd},
	"byte-rotations":   {Rotations: fixture.Byte},
	"cubic":            {Interpolation: "CUBICSPLINE", Axes: fixture.Odd},
	"step":             {Interpolation: "STEP"},
	"sparse":           {Sparse: true, Axes: fixture.Odd},
	"interleaved":      {Interleaved: true, Weights: fixture.UByte},
	"no-inverse-bind":  {NoInverseBind: true, Axes: fixture.Level},
	"eight":            {EightInfluences: true, Axes: fixture.Odd},
	"several-skins":    {SeveralSkins: true, Axes: fixture.Odd},
	"shared-mesh":      {SharedMesh: true, SeveralSkins: true},
	"shared-vertices":  {SharedVertices: true},
	"centimetres":      {RootScale: 0.01, Axes: fixture.Odd},
	"turned":           {RootTurned: true, RootScale: 2, Axes: fixture.Odd},
	"mirrored":         {Mirrored: true},
	"matrices":         {Matrices: true},
	"other-space":      {OtherSpace: true, Axes: fixture.Odd},
	"posed":            {Posed: true, Axes: fixture.Odd},
	"posed-in-a-clip":  {PosedIn: "wild", Axes: fixture.Odd, SharedMesh: true},
	"furnished":        {Furnishings: true, Axes: fixture.Odd},
	"german":           {Names: fixture.German},
	"external-buffers": {Container: fixture.External},
	"embedded-buffers": {Container: fixture.Embedded, Weights: fixture.UShort},
}

// splitCase is a character before and after.
type splitCase struct {
	character     fixture.Character
	source, split *player.Scene
	report        asset.Report
}

func splitVariant(t *testing.T, name string, o fixture.Options, options asset.Options) splitCase {
	t.Helper()
	o.Stem = "variant-" + name
	if o.Clips == nil {
		o.Clips = allClips
	}
	character, err := fixture.Build(o)
	require.NoError(t, err)
	file, err := asset.Decode(character.Name, character.Data, character.FS())
	require.NoError(t, err)
	out, report, err := asset.Split(file, options)
	require.NoError(t, err)
	data, err := out.Encode(true, false)
	require.NoError(t, err)
	c := splitCase{character: character, report: report}
	c.source, err = character.Scene()
	require.NoError(t, err)
	c.split, err = player.Load(data)
	require.NoError(t, err)
	fixture.KeepCharacter(t, character)
	fixture.Keep(t, o.Stem+".split.glb", data)
	fixture.KeepPositions(t, o.Stem+".split", c.split, 0.3, 0.9)
	return c
}

// farthest is the largest distance between vertices, over the height.
func (c splitCase) farthest(clip string, at float64, keep func(vertex int) bool) float64 {
	before, after := c.source.Pose(clip, at).Vertices(), c.split.Pose(clip, at).Vertices()
	worst := 0.
	for i := range before {
		if keep == nil || keep(i) {
			worst = max(worst, mgl64.Vec3(before[i]).Sub(mgl64.Vec3(after[i])).Len())
		}
	}
	return worst / c.source.Height()
}

// Float32 positions, matrices and weights each carry a relative 6e-8; a vertex
// sums a handful of them.
const (
	restTolerance  = 1e-6
	bindTolerance  = 1e-7 // in the bind pose places are those of the mesh, and their rounding the same
	swingTolerance = 1e-5
)

func TestSplitEveryVariant(t *testing.T) {
	for name, o := range variants {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := splitVariant(t, name, o, asset.Options{AsAsked: true})
			require.Len(t, c.report.Limbs, 6, "thighs, upper arms and forearms are found")
			require.LessOrEqual(t, c.report.RestErrorMax, bindTolerance)
			off := c.offLimb()
			require.LessOrEqual(t, c.farthest("", 0, c.untwisted(o)), restTolerance, "node pose")
			for _, at := range []float64{0.2, 0.77, 1.3} {
				require.Zero(t, c.farthest("wild", at, off), "vertices off the limbs")
			}

			// The clips below swing by shortest arcs. By way of a centre those
			// have twist, so the limbs go without one.
			c = splitVariant(t, name+"-plain-swing", o, asset.Options{AsAsked: true, Limbs: withoutCentre(t, c.character)})
			for _, clip := range []string{"swing", "bend hand"} {
				for _, at := range []float64{0.1, 0.45, 1.05, 1.6} {
					require.LessOrEqual(t, c.farthest(clip, at, c.untwisted(o)), c.stillness(o), "%s at %g", clip, at)
				}
			}
		})
	}
}

// withoutCentre are the limbs that detection finds, with plain swings.
func withoutCentre(t *testing.T, c fixture.Character) []asset.LimbSpec {
	t.Helper()
	file, err := asset.Decode(c.Name, c.Data, c.FS())
	require.NoError(t, err)
	limbs, err := asset.Detect(file)
	require.NoError(t, err)
	for i := range limbs.Limbs {
		limbs.Limbs[i].Centre = asset.Centre{Mode: "none"}
	}
	return limbs.Limbs
}

// stillness is what a clip without twist may move. Where rotations are stored
// in 8 or 16 bits, or by splines, the clip itself has some twist, which the
// split shares out as it should: as much as the steps of the storage turn a limb
// 0.1 m thick.
func (c splitCase) stillness(o fixture.Options) float64 {
	switch {
	case o.Rotations == fixture.Byte:
		return 0.1 * 2.0 / 127
	case o.Rotations == fixture.Short:
		return 0.1 * 2.0 / 32767
	}
	return swingTolerance
}

// offLimb tells the vertices that no split joint moves.
func (c splitCase) offLimb() func(int) bool {
	influences := c.source.Influences()
	return func(vertex int) bool {
		return !slices.ContainsFunc(influences[vertex], func(in player.Influence) bool {
			return slices.ContainsFunc(c.report.Limbs, func(l asset.LimbReport) bool { return l.Joint == in.Joint })
		})
	}
}

// untwisted tells the vertices that stay where they were in poses without twist from
// the node pose: all, or those off the limbs where the node pose itself has twist.
func (c splitCase) untwisted(o fixture.Options) func(int) bool {
	if o.Posed || o.PosedIn != "" {
		return c.offLimb()
	}
	return nil
}

// ring is where the ring of a bone nearest to u stands: its angle about the
// bone away from where another pose of it would have it, and the radius left.
func turned(from, to [][3]float64, ring fixture.Ring) (degrees float64) {
	centre := func(at [][3]float64) mgl64.Vec3 {
		var sum mgl64.Vec3
		for _, v := range ring.Vertices {
			sum = sum.Add(mgl64.Vec3(at[v]))
		}
		return sum.Mul(1 / float64(len(ring.Vertices)))
	}
	a, b := centre(from), centre(to)
	// Two vertices a quarter of the way round span the ring's plane.
	first, second := ring.Vertices[0], ring.Vertices[len(ring.Vertices)/4]
	x := mgl64.Vec3(from[first]).Sub(a).Normalize()
	y := mgl64.Vec3(from[second]).Sub(a).Normalize()
	now := mgl64.Vec3(to[first]).Sub(b)
	return math.Atan2(now.Dot(y), now.Dot(x)) * 180 / math.Pi
}

func rings(c splitCase, bone string) (root, end fixture.Ring) {
	all := c.character.Rings[bone]
	return all[0], all[len(all)-1]
}

// A thigh or an upper arm that turns about itself: the ring at the torso keeps
// its place, the ring at the knee or elbow goes all the way, and in between the
// turn grows steadily.
func TestOwnTwistGrowsFromTorsoToHinge(t *testing.T) {
	for _, c := range []struct{ clip, bone string }{{"twist thigh", "thigh_l"}, {"twist upper arm", "upper_arm_l"}} {
		o := splitVariant(t, "own-twist-"+strings.ReplaceAll(c.bone, "_", "-"), fixture.Options{Axes: fixture.Odd, RingsPerBone: 13}, asset.Options{AsAsked: true})
		rest, posed := o.split.Pose("", 0).Vertices(), o.split.Pose(c.clip, 1).Vertices()
		before := o.source.Pose(c.clip, 1).Vertices()
		last := math.Inf(-1)
		for _, ring := range o.character.Rings[c.bone] {
			angle := math.Abs(turned(rest, posed, ring))
			require.Greater(t, angle, last-0.1, "the turn grows along the bone")
			last = angle
		}
		root, end := rings(o, c.bone)
		require.InDelta(t, 0, turned(rest, posed, root), 1, "torso end")
		require.InDelta(t, turned(rest, before, end), turned(rest, posed, end), 0.1, "hinge end goes as far as the joint took it")
		require.InDelta(t, 90, math.Abs(turned(rest, posed, end)), 0.1)
	}
}

// A hand that bends leaves the forearm alone; one that turns about the forearm
// carries the wrist along and the elbow not at all.
func TestForearmTakesTheHandsTwistAndNotItsBend(t *testing.T) {
	c := splitVariant(t, "hand", fixture.Options{Axes: fixture.Odd, RingsPerBone: 13}, asset.Options{AsAsked: true})
	rest := c.split.Pose("", 0).Vertices()
	root, end := rings(c, "forearm_l")
	bent := c.split.Pose("bend hand", 0.25).Vertices()
	for _, ring := range c.character.Rings["forearm_l"][:9] { // from where the hand has no weight
		require.InDelta(t, 0, turned(rest, bent, ring), 1e-3)
	}
	turnedHand := c.split.Pose("turn hand", 0.25).Vertices()
	require.InDelta(t, 0, turned(rest, turnedHand, root), 1e-3, "elbow")
	require.InDelta(t, 1.4*180/math.Pi, math.Abs(turned(rest, turnedHand, end)), 0.1, "wrist")
}

// What the file plays, between keys too, is what the law says: each segment
// turns in its joint's frame by (k-1) times the joint's twist, worked out here
// from matrices and angles alone.
func TestBakedCurvesFollowTheLaw(t *testing.T) {
	for _, name := range []string{"plain", "odd-axes", "cubic", "short-rotations", "turned", "mirrored", "step"} {
		t.Run(name, func(t *testing.T) {
			limbs := []asset.LimbSpec{
				{Name: "thigh", Joint: "thigh_l", End: asset.End{Joint: "shin_l"}, Segments: 4, Twist: "own", Shares: asset.Shares{Ramp: "linear"}, Centre: asset.Centre{Mode: "none"}},
				{Name: "arm", Joint: "upper_arm_r", End: asset.End{Joint: "forearm_r"}, Segments: 3, Twist: "own", Shares: asset.Shares{List: []float64{0, 0.7, 1}}, Centre: asset.Centre{Mode: "none"}},
				{Name: "forearm", Joint: "forearm_l", End: asset.End{Joint: "hand_l"}, Segments: 3, Twist: "tip", Tip: "hand_l", Shares: asset.Shares{Ramp: "linear"}, Centre: asset.Centre{Mode: "none"}},
			}
			o := variants[name]
			o.Clips = []string{"wild", "wild 2", "twist thigh"}
			c := splitVariant(t, "law-"+name, o, asset.Options{AsAsked: true, Limbs: limbs})
			random := rand.New(rand.NewPCG(5, 6))
			for _, clip := range c.split.Clips() {
				for range 200 {
					at := random.Float64() * c.split.Duration(clip)
					p, rest := c.split.Pose(clip, at), c.split.Pose("", 0)
					check := func(mover, joint, end string, shares []float64) {
						twist, condition := twistOf(rest, p, mover, joint, end)
						if condition < 0.05 {
							return // the twist itself is not to be trusted here
						}
						for i, share := range shares {
							got := angleIn(p, joint, segmentOf(joint, i+1), boneAxis(rest, joint, end))
							if mirrored := rest.World(joint).Det() < 0; mirrored {
								got = -got // seen from outside the mirror
							}
							// The tolerance, and float32 keys of the source and of the
							// curve, magnified by the twist's condition.
							tolerance := asset.DefaultTolerance + 1e-6/condition
							require.InDelta(t, 0, math.Remainder(share*twist-got, 2*math.Pi), tolerance, "%s %s at %g", clip, joint, at)
						}
					}
					check("thigh_l", "thigh_l", "shin_l", []float64{-1, -2. / 3, -1. / 3, 0})
					check("upper_arm_r", "upper_arm_r", "forearm_r", []float64{-1, -0.3, 0})
					check("hand_l", "forearm_l", "hand_l", []float64{0, 0.5, 1})
				}
			}
			for _, clip := range c.report.Clips {
				require.LessOrEqual(t, clip.ErrorMaxDeg, 0.05, clip.Name)
			}
		})
	}
}

// boneAxis is the direction from joint to end in the joint's frame.
func boneAxis(rest player.Pose, joint, end string) mgl64.Vec3 {
	return rest.World(joint).Inv().Mul4(rest.World(end)).Col(3).Vec3().Normalize()
}

// rotationIn is the node's rotation in its parent, found in the world.
func rotationIn(p player.Pose, parent, node string) mgl64.Quat {
	m := p.World(parent).Inv().Mul4(p.World(node)).Mat3()
	for column := range 3 {
		m.SetCol(column, m.Col(column).Normalize())
	}
	if m.Det() < 0 { // the node's own scale mirrors x
		m.SetCol(0, m.Col(0).Mul(-1))
	}
	return mgl64.Mat4ToQuat(m.Mat4()).Normalize()
}

var parents = map[string]string{"thigh_l": "pelvis", "upper_arm_r": "chest", "hand_l": "forearm_l"}

// twistOf is the moving joint's twist from rest about the bone joint-end, in radians,
// and the cosine of half its swing. A joint's own is measured in its rest
// frame, a tip's in the frame of the joint above it.
func twistOf(rest, now player.Pose, mover, joint, end string) (angle, condition float64) {
	before, after := rotationIn(rest, parents[mover], mover), rotationIn(now, parents[mover], mover)
	axis := boneAxis(rest, joint, end)
	if rest.World(joint).Det() < 0 {
		axis[0] = -axis[0]
	}
	q := before.Inverse().Mul(after)
	if mover != joint {
		q = after.Mul(before.Inverse())
	}
	p := q.V.Dot(axis)
	w := q.W
	if w < 0 {
		p, w = -p, -w
	}
	return 2 * math.Atan2(p, w), math.Hypot(p, w)
}

// angleIn is the node's turn about an axis of the joint above it.
func angleIn(p player.Pose, joint, node string, axis mgl64.Vec3) float64 {
	q := rotationIn(p, joint, node)
	return 2 * math.Atan2(q.V.Dot(axis), q.W)
}

// segmentOf is what the n-th segment of a joint of the fixtures, which end in _l
// or _r, is called.
func segmentOf(joint string, n int) string {
	stem, side := joint[:len(joint)-2], joint[len(joint)-2:]
	return fmt.Sprintf("%s_segment%d%s", stem, n, side)
}
