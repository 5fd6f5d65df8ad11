package asset_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

const auditDegree = math.Pi / 180

func auditWren(t *testing.T) *asset.File {
	data, err := demo.Wren()
	require.NoError(t, err)
	f, err := asset.Decode("wren.glb", data, nil)
	require.NoError(t, err)
	return f
}

func audited(t *testing.T, f *asset.File, options asset.AuditOptions) map[string]asset.HingeReport {
	t.Helper()
	reports, err := asset.AuditHinges(f, options)
	require.NoError(t, err)
	out := map[string]asset.HingeReport{}
	for _, r := range reports {
		out[r.Joint] = r
	}
	require.Len(t, out, len(reports))
	return out
}

func auditedClip(t *testing.T, r asset.HingeReport, name string) asset.HingeClip {
	t.Helper()
	for _, c := range r.Clips {
		if c.Clip == name {
			return c
		}
	}
	require.Fail(t, "no clip", name)
	return asset.HingeClip{}
}

// Wren's knees and elbows are hinges whose axes are no axes of their frames' but
// one; straight at rest, so that only the clips tell. float32 keys leave 2^-24 in a
// component, four of those in an angle: 1.4e-5 degrees.
func TestAuditOfWrenIsClean(t *testing.T) {
	got := audited(t, auditWren(t), asset.AuditOptions{})
	require.Len(t, got, len(demo.Hinges))
	for _, name := range demo.Hinges {
		r := got[name]
		require.True(t, r.Clean, name)
		require.Equal(t, asset.AxisClips, r.AxisFrom)
		require.InDelta(t, 0, r.RestBendDeg, 1e-6)
		require.Less(t, *r.ResidualDeg, 1.4e-5)
		require.Len(t, r.Clips, 4)
		for _, c := range r.Clips {
			require.Less(t, math.Abs(c.TwistDeg), 1.4e-5, "%s: %s", name, c.Clip)
			require.Less(t, math.Abs(c.SideBendDeg), 1.4e-5, "%s: %s", name, c.Clip)
			require.Less(t, c.HyperextensionDeg, 1.4e-5, "%s: %s", name, c.Clip)
		}
	}
	require.Equal(t, "knee", got["shin_l"].Kind)
	require.Equal(t, "elbow", got["forearm_r"].Kind)
	// The clip's own figures: it bends the knee to 98 degrees and the elbow to 75.
	require.InDelta(t, 98, auditedClip(t, got["shin_l"], demo.HighStep).FlexionDeg, 0.05)
	require.InDelta(t, 75, auditedClip(t, got["forearm_l"], demo.ForearmWring).FlexionDeg, 0.05)
}

// auditBone is the bone from a joint to the one below, in the joint's frame.
func auditBone(t *testing.T, f *asset.File, joint, end string) r3.Vec {
	e, err := f.Evaluator()
	require.NoError(t, err)
	world := e.World(-1, 0)
	m, at := world[e.Node(joint)].Inv(), world[e.Node(end)].Col(3)
	return rest.VecFromMgl64(m.Mul4x1(at).Vec3())
}

// bendAndStray is a clip of two seconds that bends a hinge to 60 degrees and back
// while it strays by as much as twisted and leaned say, most at 1.3 s.
func bendAndStray(h chain.Hinge, joint string, twisted, leaned float64) asset.NewClip {
	c := asset.NewClip{Name: "stray", Joints: []asset.JointTurns{{Joint: joint}}}
	for i := range 41 {
		s := float64(i) / 20
		bump := math.Exp(-(s - 1.3) * (s - 1.3) / 0.02)
		c.Times = append(c.Times, s)
		c.Joints[0].FromRest = append(c.Joints[0].FromRest,
			h.Rotation(60*auditDegree*math.Sin(math.Pi*s/2), leaned*bump*auditDegree, twisted*bump*auditDegree))
	}
	return c
}

// A knee that twists by 10 degrees is found, with time and angle, and so is one that
// bends sideways; the axis that the clips tell stays where it was, and so does
// everything else.
func TestAuditFindsWhatStrays(t *testing.T) {
	wren := auditWren(t)
	before := audited(t, wren, asset.AuditOptions{})
	for joint, end := range map[string]string{"shin_l": "foot_l", "shin_r": "foot_r", "forearm_l": "hand_l"} {
		axis := before[joint].Axis
		h, err := chain.NewHinge(auditBone(t, wren, joint, end), r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]})
		require.NoError(t, err)
		for _, stray := range []struct{ twisted, leaned float64 }{{10, 0}, {-10, 0}, {0, 10}, {0, -10}, {4, -3}} {
			f, err := asset.AddClip(wren, bendAndStray(h, joint, stray.twisted, stray.leaned))
			require.NoError(t, err)
			got := audited(t, f, asset.AuditOptions{})
			c := auditedClip(t, got[joint], "stray")
			require.InDelta(t, stray.twisted, c.TwistDeg, 0.1, "%s %v", joint, stray)
			require.InDelta(t, stray.leaned, c.SideBendDeg, 0.1, "%s %v", joint, stray)
			if stray.twisted != 0 {
				require.InDelta(t, 1.3, c.TwistTime, 1e-3)
			}
			if stray.leaned != 0 {
				require.InDelta(t, 1.3, c.SideBendTime, 1e-3)
			}
			require.InDelta(t, 60, c.FlexionDeg, 0.1)
			clean := math.Abs(stray.twisted)+math.Abs(stray.leaned) < 10
			require.Equal(t, clean, c.Clean)
			require.Equal(t, clean, got[joint].Clean)
			require.InDeltaSlice(t, axis[:], (func() []float64 { a := got[joint].Axis; return a[:] })(), 0.05*auditDegree)
			for name, r := range got {
				for _, other := range r.Clips {
					if name != joint || other.Clip != "stray" {
						require.True(t, other.Clean, "%s: %s", name, other.Clip)
					}
				}
			}
			strict := audited(t, f, asset.AuditOptions{Tolerance: 2 * auditDegree})
			require.False(t, strict[joint].Clean)
		}
	}
}

// Odd frames, mirrored limbs, a scaled and turned root, a node pose that is not rest:
// a clip that bends a knee about its axis alone comes out clean, and twisted it is
// found, in the joint's own frame.
func TestAuditOfOddSkeletons(t *testing.T) {
	for _, o := range []fixture.Options{
		{Axes: fixture.Odd}, {Axes: fixture.Odd, RootTurned: true, RootScale: 0.01},
		{Mirrored: true, Axes: fixture.Odd}, {Posed: true, Axes: fixture.Odd, RootTurned: true},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		source, err := asset.Decode(character.Name, character.Data, nil)
		require.NoError(t, err)
		for _, side := range []string{"_l", "_r"} {
			joint := character.Joints["shin"+side]
			bone := auditBone(t, source, joint, character.Joints["foot"+side])
			h, err := chain.HingeTowards(bone, r3.Vec{X: 0.3, Y: 0.5, Z: -0.9})
			require.NoError(t, err)
			given := asset.AuditOptions{Axes: map[string][3]float64{joint: {h.Axis().X, h.Axis().Y, h.Axis().Z}}}
			for _, twisted := range []float64{0, 10} {
				// A steady turn between two keys that differ in flexion and twist
				// leans a little: second order in 6 and 4 degrees, 0.05.
				tolerance := 1e-3 + 0.05*twisted/10
				f, err := asset.AddClip(source, bendAndStray(h, joint, twisted, 0))
				require.NoError(t, err)
				r := audited(t, f, given)[joint]
				require.Equal(t, asset.AxisGiven, r.AxisFrom)
				require.Equal(t, "knee", r.Kind)
				require.InDelta(t, twisted, r.Clips[0].TwistDeg, tolerance, "%+v %s", o, joint)
				require.InDelta(t, 0, r.Clips[0].SideBendDeg, tolerance, "%+v %s", o, joint)
				require.InDelta(t, 60, r.Clips[0].FlexionDeg, 0.1)

				// The clip's own axis: no knee is bent in the bind pose.
				r = audited(t, f, asset.AuditOptions{})[joint]
				require.Equal(t, asset.AxisClips, r.AxisFrom)
				require.Less(t, r.RestBendDeg, 15.0)
				require.InDelta(t, twisted, math.Abs(r.Clips[0].TwistDeg), tolerance, "%+v %s", o, joint)
				require.InDelta(t, 0, r.Clips[0].SideBendDeg, tolerance)
			}
		}
	}
}

// A character split before is audited by its limbs, to the same figures.
func TestAuditAfterASplit(t *testing.T) {
	wren := auditWren(t)
	limbs, err := asset.Detect(wren)
	require.NoError(t, err)
	out, _, err := asset.Split(wren, asset.Options{AsAsked: true})
	require.NoError(t, err)
	want, err := asset.AuditHinges(wren, asset.AuditOptions{Limbs: limbs.Limbs})
	require.NoError(t, err)
	got, err := asset.AuditHinges(out, asset.AuditOptions{Limbs: limbs.Limbs})
	require.NoError(t, err)
	require.Equal(t, want, got)
}

func TestAuditReportsAsJSON(t *testing.T) {
	r := audited(t, auditWren(t), asset.AuditOptions{})["shin_l"]
	r.Clips = r.Clips[:1]
	*r.ResidualDeg, r.Axis, r.RestBendDeg = 0.5, [3]float64{0, 1, 0}, 0
	text, err := json.Marshal(r)
	require.NoError(t, err)
	require.JSONEq(t, `{"joint":"shin_l","kind":"knee","axis":[0,1,0],"axis_from":"clips","rest_bend_deg":0,"residual_deg":0.5,
		"clips":[{"clip":"overhead reach","twist_deg":0,"twist_time_s":0,"side_bend_deg":0,"side_bend_time_s":0,
		"flexion_deg":0,"flexion_time_s":0,"hyperextension_deg":0,"hyperextension_time_s":0,"clean":true}],"clean":true}`, string(text))
}

func TestAuditRefuses(t *testing.T) {
	wren := auditWren(t)
	for _, c := range []struct {
		options asset.AuditOptions
		message string
	}{
		{asset.AuditOptions{Tolerance: -1}, "asset: tolerance is -1 rad, expected more than 0 and at most pi"},
		{asset.AuditOptions{Tolerance: math.NaN()}, "asset: tolerance is NaN rad, expected more than 0 and at most pi"},
		{asset.AuditOptions{Limbs: []asset.LimbSpec{}}, "wren.glb: no limb tells of a knee or an elbow, expected a thigh, shin, upper arm or forearm, or an axis for a joint"},
		{asset.AuditOptions{Limbs: []asset.LimbSpec{{Name: "left thigh", Joint: "nobody"}}}, `wren.glb: limb "left thigh": joint: there is no node "nobody"`},
		{asset.AuditOptions{Limbs: []asset.LimbSpec{{Name: "left thigh", Joint: "thigh_l", End: asset.End{Joint: "foot_r"}}}}, `wren.glb: limb "left thigh": end: "foot_r" is not below the joint`},
		{asset.AuditOptions{Limbs: []asset.LimbSpec{{Name: "left shin", Joint: "shin_l", End: asset.End{Joint: "foot_r"}}}}, `wren.glb: joint "shin_l": end: "foot_r" is not below the joint`},
		{asset.AuditOptions{Axes: map[string][3]float64{"nobody": {1}}}, `wren.glb: axes: there is no node "nobody"`},
		{asset.AuditOptions{Axes: map[string][3]float64{"shin_l": {1}}}, `wren.glb: joint "shin_l": chain: hinge: axis is 0.0 degrees from the bone, expected 45 or more`},
	} {
		_, err := asset.AuditHinges(wren, c.options)
		require.ErrorContains(t, err, c.message)
	}
}

// A rotation that is no hinge's at all does not end the audit.
func TestAuditOfAWildClip(t *testing.T) {
	wren := auditWren(t)
	f, err := asset.AddClip(wren, asset.NewClip{Name: "wild", Times: []float64{0, 1, 2}, Joints: []asset.JointTurns{
		{Joint: "shin_l", FromRest: []quat.Number{{Real: 1}, {Imag: 1}, {Jmag: 1, Kmag: 1}}},
	}})
	require.NoError(t, err)
	r := audited(t, f, asset.AuditOptions{})["shin_l"]
	require.False(t, r.Clean)
}

// On the ISB's axes what the audit measures is what sweep calls Grood and Suntay's
// angles, to the last bits; half turns may differ in the sign of a zero, and so by a
// whole turn.
func TestHingeAnglesAreGroodSuntay(t *testing.T) {
	h, err := chain.NewHinge(r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		q := draw.Rotation().Draw(t, "q")
		alpha, beta, gamma, defined := sweep.GroodSuntay(q)
		got := h.Measure(q)
		require.Equal(t, defined, got.Defined)
		require.Equal(t, beta, got.SideBend)
		require.InDelta(t, 0, math.Remainder(alpha-got.Flexion, 2*math.Pi), 2*0x1p-52)
		require.InDelta(t, 0, math.Remainder(gamma-got.Twist, 2*math.Pi), 2*0x1p-52)
	})
}
