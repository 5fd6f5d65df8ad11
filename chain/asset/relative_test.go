package asset

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// helperOffsets are how far to the side of a bone of 1 a helper stands that is
// still on the joint.
var helperOffsets = []float64{0, 1e-7, 1e-3}

// A helper on the fold, or a hair off it, is passed over: the bone above is the
// thigh, and the bone beyond the shin.
func TestCreasePassesOverHelpers(t *testing.T) {
	for _, off := range append(helperOffsets, 0.05) {
		b := &small{}
		at := b.floats("VEC3", 3, 0, 0, 0)
		joints, weights := b.bytes(2, 0, 0, 0), b.floats("VEC4", 4, 1, 0, 0, 0)
		f := b.file(t, members{
			"nodes": []any{
				members{"name": "thigh", "children": []any{1}},
				members{"name": "helper", "children": []any{2}, "translation": []any{0, -1, 0}},
				members{"name": "shin", "children": []any{3, 4}, "translation": []any{off, 0, 0}},
				members{"name": "pad", "translation": []any{0, 0, off}}, // the only other joint of the skin
				members{"name": "foot", "translation": []any{0, -1, 0}},
				members{"mesh": 0, "skin": 0},
			},
			"skins":  []any{members{"joints": []any{0, 1, 2, 3}}},
			"meshes": []any{members{"primitives": []any{members{"mode": 0, "attributes": members{"POSITION": at, "JOINTS_0": joints, "WEIGHTS_0": weights}}}}},
		})
		e, err := f.Evaluator()
		require.NoError(t, err)
		find := newFinder(f, e, DefaultNames)
		shin, err := find.limb(LimbSpec{Name: "shin", Joint: "shin", End: End{Joint: "foot"}, Segments: 2, Centre: Centre{Mode: CentreNone}, Crease: &Crease{At: CreaseAtRoot, Most: 0.01}})
		require.NoError(t, err)
		thigh, err := find.limb(LimbSpec{Name: "thigh", Joint: "thigh", End: End{Joint: "shin"}, Segments: 2, Centre: Centre{Mode: CentreNone}, Crease: &Crease{At: CreaseAtEnd, Most: 0.01}})
		require.NoError(t, err)
		near, _ := shin.creasing.bones(nil, 0)
		_, far := thigh.creasing.bones(nil, 0)
		if off > standsOn { // a bone of its own
			require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Unit(near), r3.Vec{X: -1})), 1e-7)
			require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Unit(far), r3.Vec{Z: 1})), 1e-7)
			continue
		}
		require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Unit(near), r3.Vec{Y: 1})), 1.001*off+1e-12, "helper %g off", off)
		require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Unit(far), r3.Vec{Y: -1})), 1e-12, "pad %g off", off)
	}
}

// The same for a knee: its hinge is that between thigh and shin, whatever the helper
// does.
func TestAuditPassesOverHelpers(t *testing.T) {
	sin, cos := math.Sincos(30 * math.Pi / 180)
	for _, off := range append(helperOffsets, 0.05) {
		k := kneeFile{
			helper: map[string]any{"translation": []any{0, -1, 0}}, shin: map[string]any{"translation": []any{0, 0, off}},
			foot:     map[string]any{"translation": []any{0, -cos, -sin}},
			channels: []kneeChannel{{node: 2, interpolation: "LINEAR", times: []float64{0, 1}, values: kneeKeys(quat.Number{Real: 1}, quat.Number{Real: math.Cos(0.25), Imag: math.Sin(0.25)})}},
		}
		reports, err := AuditHinges(k.decode(t), AuditOptions{Limbs: []LimbSpec{{Name: "shin", Joint: "shin", End: End{Joint: "foot"}}}})
		require.NoError(t, err)
		r := reports[0]
		if off > standsOn {
			require.InDelta(t, 120, r.RestBendDeg, 1e-5, "the helper is a bone, and points ahead")
			require.Zero(t, r.Clips[0].FlexionDeg, "the helper does not bend against itself")
			continue
		}
		require.Equal(t, AxisRest, r.AxisFrom)
		require.InDelta(t, 30, r.RestBendDeg, 1.001*off*180/math.Pi+1e-5, "helper %g off", off)
		require.InDelta(t, 1, r.Axis[0], 1e-6)
		require.InDelta(t, 0.5*180/math.Pi, r.Clips[0].FlexionDeg, 1e-4)
	}
}

// A direction in a scaled frame, seen from where the rotation stands.
func TestOutside(t *testing.T) {
	m := mgl64.HomogRotate3D(0.7, mgl64.Vec3{0.6, 0, 0.8}).Mul4(mgl64.Scale3D(-1, 2, 3))
	x, shear := takenApart(m)
	require.InDelta(t, 0, shear, 1e-15)
	for _, x := range []transform{x, {rotation: x.rotation, scale: x.scale, matrix: &m}} {
		require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: -1, Y: 2, Z: 3}, x.outside(r3.Vec{X: 1, Y: 1, Z: 1}))), 1e-14)
	}
}
