package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bent at rest, the bones tell the axis, and flexion goes on from there.
func TestAuditTakesTheAxisFromRest(t *testing.T) {
	sin, cos := math.Sincos(30 * math.Pi / 180)
	k := kneeFile{foot: map[string]any{"translation": []any{0, -cos, -sin}}}
	h, err := chain.NewHinge(r3.Vec{Y: -cos, Z: -sin}, r3.Vec{X: 1})
	require.NoError(t, err)
	k.channels = []kneeChannel{{node: 3, interpolation: "LINEAR", times: []float64{0, 1, 2, 3}, values: kneeKeys(
		h.Rotation(0, 0, 0), h.Rotation(1, 0.1, 0), h.Rotation(-0.3, 0, 0), h.Rotation(0.5, 0, 0),
	)}}
	r := k.audit(t, nil)
	require.Equal(t, AxisRest, r.AxisFrom)
	require.InDelta(t, 30, r.RestBendDeg, 1e-6)
	require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: r.Axis[0], Y: r.Axis[1], Z: r.Axis[2]}, r3.Vec{X: 1})), 1e-7)
	require.Greater(t, *r.ResidualDeg, 0.5)
	const degrees = 180 / math.Pi
	c := r.Clips[0]
	require.InDelta(t, 1*degrees, c.FlexionDeg, 0.05)
	require.InDelta(t, 1, c.FlexionTime, 0.01)
	require.InDelta(t, 0.3*degrees, c.HyperextensionDeg, 1e-5)
	require.InDelta(t, 2, c.HyperextensionTime, 1e-6)
	require.InDelta(t, 0.1*degrees, c.SideBendDeg, 0.05)
}

// Without a bend at rest or in a clip the body says which way knees go, in a turned
// frame too; a twist is seen all the same. Without a foot the bone goes on straight.
func TestAuditTakesTheAxisFromTheBody(t *testing.T) {
	for _, k := range []kneeFile{{}, {shin: map[string]any{"rotation": kneeTurned}}, {helper: map[string]any{"scale": []any{-1, 1, 1}}}, {foot: map[string]any{"translation": []any{0, 0, 0}}}} {
		at := quat.Number{Real: 1}
		bone := r3.Vec{Y: -1}
		if k.shin != nil {
			at = unit(quat.Number{Real: math.Cos(1), Imag: 0.6 * math.Sin(1), Kmag: 0.8 * math.Sin(1)})
			k.foot = map[string]any{"translation": []any{0, -1, 0}}
		}
		twisted := quat.Number{Real: math.Cos(0.1), Jmag: -math.Sin(0.1)}
		k.channels = []kneeChannel{{node: 3, interpolation: "LINEAR", times: []float64{0, 1}, values: kneeKeys(at, quat.Mul(at, twisted))}}
		f := k.decode(t)
		r := k.audit(t, nil)
		if k.shin != nil { // turned without its foot's leave: bent at rest
			require.Equal(t, AxisRest, r.AxisFrom)
		} else {
			require.Equal(t, AxisBody, r.AxisFrom)
			require.Nil(t, r.ResidualDeg)
			// Flexion takes the foot to the back of the world.
			h, err := chain.NewHinge(bone, r3.Vec{X: r.Axis[0], Y: r.Axis[1], Z: r.Axis[2]})
			require.NoError(t, err)
			e, err := f.Evaluator()
			require.NoError(t, err)
			q := h.Rotation(math.Pi/2, 0, 0)
			back := unit(q)
			moved := quat.Mul(quat.Mul(back, quat.Number{Jmag: -1}), quat.Conj(back))
			world := e.World(-1, 0)[3].Mat3().Mul3x1([3]float64{moved.Imag, moved.Jmag, moved.Kmag})
			require.InDelta(t, -1, world.Normalize()[2], 1e-7)
		}
		require.InDelta(t, 0.2*180/math.Pi, r.Clips[0].TwistDeg, 1e-5)
		require.InDelta(t, 1, r.Clips[0].TwistTime, 1e-6)
	}
}

// Bones that point ahead or back bend as they would after being swung there from
// hanging.
func TestAuditOfBonesThatPointAhead(t *testing.T) {
	ahead, back := []any{-math.Sqrt2 / 2, 0., 0., math.Sqrt2 / 2}, []any{math.Sqrt2 / 2, 0., 0., math.Sqrt2 / 2} // about X, of a bone that hangs
	for _, c := range []struct {
		limb    string
		helper  []any
		flexion r3.Vec // where it takes the bone, in the world
	}{
		{"thigh", ahead, r3.Vec{Y: -1}}, {"thigh", back, r3.Vec{Y: 1}},
		{"upper arm", ahead, r3.Vec{Y: 1}}, {"upper arm", back, r3.Vec{Y: -1}},
		{"upper arm", []any{0., 0., 0., 1.}, r3.Vec{Z: 1}},
	} {
		f := kneeFile{helper: map[string]any{"rotation": c.helper}}.decode(t)
		reports, err := AuditHinges(f, AuditOptions{Limbs: []LimbSpec{{Name: c.limb, Joint: "thigh", End: End{Joint: "shin"}}}})
		require.NoError(t, err)
		require.Equal(t, AxisBody, reports[0].AxisFrom)
		axis := reports[0].Axis
		h := kneeHingeOf(t, r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]})
		toWorld := rest.Frame{Rotation: quat.Number{Real: c.helper[3].(float64), Imag: c.helper[0].(float64)}}
		bent := toWorld.Direction(rest.Frame{Rotation: h.Rotation(math.Pi/2, 0, 0)}.Direction(h.Bone()))
		require.InDelta(t, 0, r3.Norm(r3.Sub(bent, c.flexion)), 1e-6, "%s %v", c.limb, c.helper)
	}
}

// A clip that only bends the knee the wrong way is hyperextension all along.
func TestAuditKnowsWhichWayKneesGo(t *testing.T) {
	h := kneeHingeOf(t, r3.Vec{X: 1})
	k := kneeFile{channels: []kneeChannel{{node: 3, interpolation: "STEP", times: []float64{0, 1, 2}, values: kneeKeys(h.Rotation(0, 0, 0), h.Rotation(-0.5, 0, 0), h.Rotation(0, 0, 0))}}}
	r := k.audit(t, nil)
	require.Equal(t, AxisClips, r.AxisFrom)
	require.InDelta(t, 0.5*180/math.Pi, r.Clips[0].HyperextensionDeg, 1e-5)
	require.Equal(t, 1.0, r.Clips[0].HyperextensionTime)
	require.Zero(t, r.Clips[0].FlexionDeg)
}

// Thinning keeps even steps however many there are.
func TestThinned(t *testing.T) {
	var s thinned
	for i := range 300_000 {
		s.add(quat.Number{Real: float64(i)})
	}
	require.Equal(t, 4, s.step)
	require.Len(t, s.kept, 75_000)
	for i, q := range s.kept {
		require.Equal(t, float64(4*i), q.Real)
	}
}

// The bone goes to the foot, past helpers and whatever lies farther off; without
// words for it to the farthest child, helpers last.
func TestAuditFindsTheBoneBelow(t *testing.T) {
	for text, want := range map[string]r3.Vec{
		"thigh\n\tshin\n\t\tshin_twist @ 0 0 5\n\t\tflap @ 3 0 0\n\t\tfoot @ 0 -2 0":  {Y: -2},
		"thigh\n\tshin\n\t\tlink @ 0 -1 0\n\t\t\tfoot @ 0 -1 1":                       {Y: -2, Z: 1},
		"thigh\n\tshin\n\t\tshin_twist @ 0 0 5\n\t\tflap @ 3 0 0\n\t\tthing @ 0 -4 0": {Y: -4},
		"thigh\n\tshin\n\t\tshin_twist @ 0 0 5":                                       {Z: 5},
		"thigh\n\tshin":                                                               {},
	} {
		f := decodeSkeleton(t, text)
		e, err := f.Evaluator()
		require.NoError(t, err)
		d := hingeFinder{file: f, poses: e.poses}
		require.Equal(t, want, d.below(1), text)
	}
}
