package asset

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// kneeFile is pelvis - thigh - helper - shin - foot, of which a test changes what
// it is about. Nodes 1 to 4; channels turn helper and shin.
type kneeFile struct {
	helper, shin, foot map[string]any // properties besides the name and the children
	channels           []kneeChannel
}

type kneeChannel struct {
	node          int
	interpolation string
	times         []float64
	values        []float64 // x, y, z, w, key after key, with tangents for CUBICSPLINE
}

func (k kneeFile) decode(t *testing.T) *File {
	t.Helper()
	type object = map[string]any
	var bin []byte
	var accessors, samplers, targets []any
	floats := func(kind string, width int, numbers []float64) int {
		accessors = append(accessors, object{"bufferView": 0, "byteOffset": len(bin), "componentType": 5126, "count": len(numbers) / width, "type": kind})
		for _, x := range numbers {
			bin = binary.LittleEndian.AppendUint32(bin, math.Float32bits(float32(x)))
		}
		return len(accessors) - 1
	}
	for i, c := range k.channels {
		samplers = append(samplers, object{"input": floats("SCALAR", 1, c.times), "output": floats("VEC4", 4, c.values), "interpolation": c.interpolation})
		targets = append(targets, object{"sampler": i, "target": object{"node": c.node, "path": "rotation"}})
	}
	bin = append(bin, 0, 0, 0, 0)
	node := func(name string, child int, properties, defaults object) object {
		n := object{"name": name}
		if child > 0 {
			n["children"] = []any{child}
		}
		for _, o := range []object{defaults, properties} {
			for key, value := range o {
				n[key] = value
			}
		}
		return n
	}
	root := object{
		"asset": object{"version": "2.0"}, "buffers": []any{object{"byteLength": len(bin)}},
		"bufferViews": []any{object{"buffer": 0, "byteLength": len(bin)}}, "accessors": accessors,
		"nodes": []any{
			node("pelvis", 1, nil, nil),
			node("thigh", 2, nil, object{"scale": []any{2, 2, 2}}),
			node("helper", 3, k.helper, nil),
			node("shin", 4, k.shin, object{"translation": []any{0, -1, 0}}),
			node("foot", 0, k.foot, object{"translation": []any{0, -1, 0}}),
		},
	}
	if samplers != nil {
		root["animations"] = []any{object{"name": "bend", "samplers": samplers, "channels": targets}}
	} else {
		delete(root, "accessors")
	}
	text, err := json.Marshal(root)
	require.NoError(t, err)
	f, err := Decode("knee.glb", glbOf(t, text, bin), nil)
	require.NoError(t, err)
	return f
}

var kneeLimb = []LimbSpec{{Name: "thigh", Joint: "thigh", End: End{Joint: "shin"}}}

func (k kneeFile) audit(t *testing.T, axes map[string][3]float64) HingeReport {
	t.Helper()
	r, err := AuditHinges(k.decode(t), AuditOptions{Limbs: kneeLimb, Axes: axes})
	require.NoError(t, err)
	require.Len(t, r, 1)
	return r[0]
}

// kneeKeys writes rotations as glTF does.
func kneeKeys(rotations ...quat.Number) (out []float64) {
	for _, q := range rotations {
		out = append(out, q.Imag, q.Jmag, q.Kmag, q.Real)
	}
	return out
}

func kneeHingeOf(t *testing.T, axis r3.Vec) chain.Hinge {
	h, err := chain.NewHinge(r3.Vec{Y: -1}, axis)
	require.NoError(t, err)
	return h
}

// Random keys far apart, of every interpolation and of two joints at once: the worst
// values are those of sampling each stretch two thousand times, to 0.05 degrees, and
// are really there at the times told.
func TestAuditIsExactBetweenKeys(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	gauss := func(n int, size float64) (out []float64) {
		for range n {
			out = append(out, size*random.NormFloat64())
		}
		return out
	}
	h := kneeHingeOf(t, r3.Vec{X: 1})
	const count = 6
	compared := 0
	for i := range 60 {
		var channels []kneeChannel
		nodes := [][]int{{3}, {2, 3}}[i%2]
		for _, node := range nodes {
			c := kneeChannel{node: node, interpolation: []string{"LINEAR", "CUBICSPLINE", "STEP"}[random.IntN(3)]}
			at := 0.
			for range count {
				at += 0.1 + random.Float64()
				c.times = append(c.times, at)
				x := gauss(3, 0.35)
				key := kneeKeys(h.Rotation(0.8+1.2*x[0], x[1], x[2]))
				if c.interpolation == "CUBICSPLINE" {
					key = append(append(gauss(4, 0.4), key...), gauss(4, 0.4)...)
				}
				c.values = append(c.values, key...)
			}
			channels = append(channels, c)
		}
		k := kneeFile{channels: channels}
		got := k.audit(t, map[string][3]float64{"shin": {1}}).Clips[0]

		f := k.decode(t)
		clips, err := f.clips(func(int) bool { return true })
		require.NoError(t, err)
		tracks := clips[0].nodes
		at := func(time float64) chain.HingeAngles {
			q := tracks[3].rotation.rotation(time)
			if tracks[2] != nil {
				q = quat.Mul(tracks[2].rotation.rotation(time), q)
			}
			return h.Measure(q)
		}
		var twist, side, flexion, extension float64
		see := func(a chain.HingeAngles) {
			twist, side = max(twist, math.Abs(a.Twist)), max(side, math.Abs(a.SideBend))
			flexion, extension = max(flexion, a.Flexion), max(extension, -a.Flexion)
		}
		var all []*track
		for _, n := range tracks {
			all = append(all, n.rotation)
		}
		times := keyTimes(all)
		for j, time := range times {
			see(at(time))
			for n := range 2000 {
				if j > 0 {
					see(at(times[j-1] + (time-times[j-1])*float64(n)/2000))
				}
			}
		}
		const degrees, tolerance = 180 / math.Pi, 0.05
		if side*degrees > 60 || max(twist, flexion, extension)*degrees > 170 {
			continue // angles race there, or jump by a whole turn: too fast for either
		}
		compared++
		require.InDelta(t, twist*degrees, math.Abs(got.TwistDeg), tolerance, "%d: %v", i, channels)
		require.InDelta(t, side*degrees, math.Abs(got.SideBendDeg), tolerance, "%d: %v", i, channels)
		require.InDelta(t, flexion*degrees, got.FlexionDeg, tolerance, "%d: %v", i, channels)
		require.InDelta(t, extension*degrees, got.HyperextensionDeg, tolerance, "%d: %v", i, channels)
		require.InDelta(t, got.TwistDeg, at(got.TwistTime).Twist*degrees, 1e-9)
		require.InDelta(t, got.SideBendDeg, at(got.SideBendTime).SideBend*degrees, 1e-9)
		if got.FlexionDeg > 0 {
			require.InDelta(t, got.FlexionDeg, at(got.FlexionTime).Flexion*degrees, 1e-9)
		}
	}
	require.Greater(t, compared, 30)
}

// A cubic spline from rest to rest that twists in between, by its tangents alone,
// and one about the hinge's askew axis, which stays clean.
func TestAuditSeesWhatOnlySplinesDo(t *testing.T) {
	h := kneeHingeOf(t, r3.Vec{X: 1, Z: 2})
	// A spline with equal ends and a tangent out of s, over a second, adds
	// s (x^3 - 2 x^2 + x): the most at x = 1/3, 4/27 s.
	wiggle := func(axis r3.Vec) kneeChannel {
		s := 27. / 4 * math.Tan(5*math.Pi/180) // a vector part of tan 5 beside w = 1: 10 degrees
		tangent := quat.Number{Imag: s * axis.X, Jmag: s * axis.Y, Kmag: s * axis.Z}
		return kneeChannel{node: 3, interpolation: "CUBICSPLINE", times: []float64{0, 1}, values: kneeKeys(
			quat.Number{}, quat.Number{Real: 1}, tangent, quat.Number{}, quat.Number{Real: 1}, quat.Number{},
		)}
	}
	given := map[string][3]float64{"shin": {h.Axis().X, h.Axis().Y, h.Axis().Z}}
	c := kneeFile{channels: []kneeChannel{wiggle(h.Bone())}}.audit(t, given).Clips[0]
	require.InDelta(t, 10, c.TwistDeg, 1e-5)
	require.InDelta(t, 1./3, c.TwistTime, 1e-4)
	require.False(t, c.Clean)
	require.InDelta(t, 0, c.SideBendDeg, 1e-5)
	c = kneeFile{channels: []kneeChannel{wiggle(h.Axis())}}.audit(t, given).Clips[0]
	require.InDelta(t, 10, c.FlexionDeg, 1e-5)
	require.InDelta(t, 0, c.TwistDeg, 1e-5)
	require.InDelta(t, 0, c.SideBendDeg, 1e-5)
	require.True(t, c.Clean)
}

// kneeTurned is a turn by two radians about an axis that is nobody's.
var kneeTurned = []any{0.6 * math.Sin(1), 0., 0.8 * math.Sin(1), math.Cos(1)}

// Turned, scaled and mirrored frames leave a hinge a hinge, about an axis that is no
// coordinate axis, in the joint's own frame; between a mirrored helper and the
// joint too.
func TestAuditInOddFrames(t *testing.T) {
	straight := kneeHingeOf(t, r3.Vec{X: 2, Z: -1})
	turn := unit(quat.Number{Real: math.Cos(1), Imag: 0.6 * math.Sin(1), Kmag: 0.8 * math.Sin(1)})
	for name, k := range map[string]kneeFile{
		"plain":           {},
		"helper scaled":   {helper: map[string]any{"scale": []any{0.5, 0.5, 0.5}, "rotation": kneeTurned}},
		"helper mirrored": {helper: map[string]any{"scale": []any{-1, 1, 1}, "rotation": kneeTurned}},
		"all mirrored":    {helper: map[string]any{"scale": []any{-2, 2, 2}}},
		"own scale":       {shin: map[string]any{"scale": []any{3, 3, 3}}},
		"own mirror":      {shin: map[string]any{"scale": []any{-1, 1, 1}}},
		"turned":          {shin: map[string]any{"rotation": kneeTurned}},
	} {
		at, h := quat.Number{Real: 1}, straight
		if k.shin["rotation"] != nil { // the foot stays below the knee
			at = turn
			back := rest.Frame{Rotation: turn}.Inverse()
			bone := back.Direction(straight.Bone())
			k.foot = map[string]any{"translation": []any{bone.X, bone.Y, bone.Z}}
			var err error
			h, err = chain.NewHinge(bone, back.Direction(straight.Axis()))
			require.NoError(t, err)
		}
		for _, stray := range [][2]float64{{0, 0}, {0, 8}, {-7, 0}} {
			var turns []quat.Number
			var times []float64
			for i := range 37 {
				bump := math.Exp(-float64((i-20)*(i-20)) / 8)
				times = append(times, float64(i)/10)
				turns = append(turns, quat.Mul(at, h.Rotation(float64(i)*3*math.Pi/180, stray[1]*bump*math.Pi/180, stray[0]*bump*math.Pi/180)))
			}
			k.channels = []kneeChannel{{node: 3, interpolation: "LINEAR", times: times, values: kneeKeys(turns...)}}
			r := k.audit(t, nil)
			require.Equal(t, AxisClips, r.AxisFrom)
			// A side-bend's fringes, within a tenth of a degree, stay in the fit.
			axis := r3.Vec{X: r.Axis[0], Y: r.Axis[1], Z: r.Axis[2]}
			require.InDelta(t, 0, r3.Norm(r3.Sub(axis, h.Axis())), 0.05*math.Pi/180, "%s %v", name, stray)
			require.InDelta(t, stray[0], r.Clips[0].TwistDeg, 0.1, "%s %v", name, stray)
			require.InDelta(t, stray[1], r.Clips[0].SideBendDeg, 0.1, "%s %v", name, stray)
			require.InDelta(t, 108, r.Clips[0].FlexionDeg, 0.1, "%s %v", name, stray)
			require.Equal(t, stray == [2]float64{}, r.Clean, "%s %v", name, stray)
			if stray == [2]float64{} {
				require.InDelta(t, 0, r.Clips[0].TwistDeg, 2e-5, name)
				require.InDelta(t, 0, r.Clips[0].SideBendDeg, 2e-5, name)
			}
		}
	}
}

// A bone along the hinge's axis has no twist of its own.
func TestAuditSaysWhatIsUndefined(t *testing.T) {
	q := quat.Number{Real: math.Sqrt2 / 2, Kmag: math.Sqrt2 / 2}
	k := kneeFile{channels: []kneeChannel{{node: 3, interpolation: "STEP", times: []float64{0, 1}, values: kneeKeys(quat.Number{Real: 1}, q)}}}
	c := k.audit(t, map[string][3]float64{"shin": {1}}).Clips[0]
	require.False(t, c.Clean)
	require.InDelta(t, 90, math.Abs(c.SideBendDeg), 1e-4)
	require.True(t, c.Undefined)
}
