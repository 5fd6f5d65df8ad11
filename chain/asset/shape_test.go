package asset

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
)

// tube is a leg for the tests of stretch and crease: pelvis - thigh - shin -
// foot, and a goal that is nobody's child, with four vertices around the
// thigh's bone at the root, the middle and the end, and four half-way down the
// shin. Numbers are those of the nodes.
type tube struct {
	rotation  [4]float64 // of the thigh at rest
	scale     []any      // of the thigh, own
	root      []any      // scale of the pelvis
	bone      [3]float64 // from thigh to shin
	loneShin  bool       // without a foot
	times     []float64
	animation []legChannel
}

const (
	tubePelvis = iota
	tubeThigh
	tubeShin
	tubeFoot
	tubeGoal
	tubeMesh
)

const tubeRadius = 0.1

func (o tube) file(t *testing.T) *File {
	t.Helper()
	if o.rotation == ([4]float64{}) {
		o.rotation[3] = 1
	}
	nodes := func() []any {
		bone := []any{o.bone[0], o.bone[1], o.bone[2]}
		shin := members{"name": "shin", "translation": bone, "children": []any{tubeFoot}}
		foot := members{"name": "foot", "translation": bone}
		if o.loneShin {
			foot["translation"] = []any{0, 0, 0}
		}
		thigh := members{"name": "thigh", "rotation": o.rotation, "translation": []any{0.1, 0, 0}, "children": []any{tubeShin}}
		pelvis := members{"name": "pelvis", "children": []any{tubeThigh}}
		if o.scale != nil {
			thigh["scale"] = o.scale
		}
		if o.root != nil {
			pelvis["scale"] = o.root
		}
		return []any{pelvis, thigh, shin, foot, members{"name": "goal", "translation": []any{0.1, -1, 0}}, members{"mesh": 0, "skin": 0}}
	}
	scenes := []any{members{"nodes": []any{tubePelvis, tubeGoal, tubeMesh}}}
	bare := &small{}
	bare.floats("SCALAR", 1, 0)
	f := bare.file(t, members{"nodes": []any{nodes()[0], nodes()[1], nodes()[2], nodes()[3], nodes()[4], members{}}, "scenes": scenes})
	e, err := f.Evaluator()
	require.NoError(t, err)
	world := e.World(-1, 0)

	b := &small{}
	var at, inverse []float64
	var joints []byte
	bone := mgl64.Vec3(o.bone)
	side := bone.Cross(mgl64.Vec3{0.3, 0.2, 0.9}).Normalize().Mul(tubeRadius)
	over := bone.Normalize().Cross(side)
	for ring := range 4 {
		place, joint, base := bone.Mul(float64(ring)/2), byte(1), world[tubeThigh]
		if ring == 3 {
			place, joint, base = bone.Mul(0.5), 2, world[tubeShin]
		}
		for k := range 4 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 2)
			p := mgl64.TransformCoordinate(place.Add(side.Mul(cos)).Add(over.Mul(sin)), base)
			at = append(at, p[0], p[1], p[2])
			joints = append(joints, joint, 0, 0, 0)
		}
	}
	for _, node := range []int{tubePelvis, tubeThigh, tubeShin, tubeFoot} {
		m := world[node].Inv()
		inverse = append(inverse, m[:]...)
	}
	weights := make([]float64, 4*16)
	for i := range 16 {
		weights[4*i] = 1
	}
	attributes := members{"POSITION": b.floats("VEC3", 3, at...), "JOINTS_0": b.bytes(joints...), "WEIGHTS_0": b.floats("VEC4", 4, weights...)}
	b.accessors[0].(members)["min"], b.accessors[0].(members)["max"] = extremes(at)
	root := members{
		"nodes": nodes(), "scenes": scenes, "scene": 0,
		"skins":  []any{members{"joints": []any{0, 1, 2, 3}, "inverseBindMatrices": b.floats("MAT4", 16, inverse...)}},
		"meshes": []any{members{"primitives": []any{members{"mode": 0, "attributes": attributes}}}},
	}
	if o.animation != nil {
		root["animations"] = []any{b.animation("move", o.times, o.animation...)}
	}
	return b.file(t, root)
}

// extremes are the least and greatest of positions, as float32.
func extremes(at []float64) (least, greatest []any) {
	for axis := range 3 {
		low, high := math.Inf(1), math.Inf(-1)
		for i := axis; i < len(at); i += 3 {
			low, high = min(low, float64(float32(at[i]))), max(high, float64(float32(at[i])))
		}
		least, greatest = append(least, low), append(greatest, high)
	}
	return least, greatest
}

func thighLimb() LimbSpec {
	return LimbSpec{Name: "thigh", Joint: "thigh", End: End{Joint: "shin"}, Segments: 3, Centre: Centre{Mode: CentreNone}}
}

// shapeCase is a tube before and after.
type shapeCase struct {
	before, after *Evaluator
	out           *File
	report        Report
	length        float64
}

func splitTube(t *testing.T, o tube, limbs ...LimbSpec) shapeCase {
	t.Helper()
	f := o.file(t)
	out, report, err := Split(f, Options{AsAsked: true, Limbs: limbs})
	require.NoError(t, err)
	require.LessOrEqual(t, report.RestErrorMax, 1e-6, "rest does not move")
	c := shapeCase{out: out, report: report, length: mgl64.Vec3(o.bone).Len()}
	c.before, err = f.Evaluator()
	require.NoError(t, err)
	c.after, err = out.Evaluator()
	require.NoError(t, err)
	keptTubes++
	for kind, file := range map[string]*File{"": f, ".split": out} {
		data, err := file.Encode(true, false)
		require.NoError(t, err)
		fixture.Keep(t, fmt.Sprintf("shape-%d%s.glb", keptTubes, kind), data)
	}
	// Nothing that was there moves otherwise, the end joint and its children
	// least of all.
	for _, at := range tubeTimes {
		before, after := c.before.World(c.clip(), at), c.after.World(c.clip(), at)
		require.Equal(t, before, after[:len(before)], "at %g s", at)
	}
	return c
}

var keptTubes int // for names of their own

func (c shapeCase) clip() int { return len(c.before.clips) - 1 }

var tubeTimes = []float64{0, 0.2, 0.5, 0.77, 1, 1.3, 1.7, 2}

// ring is the middle of a ring in the thigh's frame and its mean radius there.
func (c shapeCase) ring(ring int, at float64) (middle mgl64.Vec3, radius float64) {
	world := c.after.World(c.clip(), at)
	vertices := c.after.Vertices(world)
	var points [4]mgl64.Vec3
	for k := range points {
		v := vertices[4*ring+k]
		points[k] = seenFrom(world[tubeThigh], mgl64.Vec3{v.X, v.Y, v.Z})
		middle = middle.Add(points[k].Mul(0.25))
	}
	for _, p := range points {
		radius += p.Sub(middle).Len() / 4
	}
	return middle, radius
}

// channels counts those of the segments, by what they move.
func (c shapeCase) channels() (turns, places, sizes int) {
	for _, a := range c.out.Doc.Animations {
		for _, ch := range a.Channels {
			if *ch.Target.Node <= tubeMesh {
				continue
			}
			switch ch.Target.Path {
			case gltf.TRSRotation:
				turns++
			case gltf.TRSTranslation:
				places++
			case gltf.TRSScale:
				sizes++
			}
		}
	}
	return turns, places, sizes
}

// skinTolerance is what baked shapes may move skin by: the tolerance times the
// bone's length for place and size each, and float32.
func (c shapeCase) skinTolerance() float64 { return 2*DefaultTolerance*c.length + 1e-6 }

func times3(v [3]float64, factors ...float64) (out []float64) {
	for _, k := range factors {
		out = append(out, k*v[0], k*v[1], k*v[2])
	}
	return out
}

var (
	tubeBone = [3]float64{0.2, -0.35, 0.1}
	tubeTurn = [4]float64{0.5, -0.1, 0.7, 0.5}
	tubeSway = legChannel{node: tubeThigh, interpolation: "LINEAR", rotations: []float64{0.5, -0.1, 0.7, 0.5, 0.6, 0, 0.8, 0, 0, 0.6, 0, 0.8}}
)
