package swing_test

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// hash is a short one of all bits.
func hash(t *testing.T, parts ...any) string {
	t.Helper()
	sum := sha256.New()
	for _, part := range parts {
		require.NoError(t, binary.Write(sum, binary.LittleEndian, part))
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// fieldFile is what a field is saved as.
func fieldFile(t *testing.T, f *swing.Field) []byte {
	t.Helper()
	data, err := f.MarshalBinary()
	require.NoError(t, err)
	return data
}

// TestSameBitsFields: a field of each kind of region has these bits on every
// processor. Other numbers here are other solved bits: see DEVELOPERS.md,
// Releasing.
func TestSameBitsFields(t *testing.T) {
	axis, centre := r3.Vec{X: 3, Y: -1, Z: 2}, r3.Vec{X: 2, Y: 1, Z: 1}
	for _, c := range []struct {
		name         string
		region       swing.Region
		axis, centre r3.Vec
		edge, solved string
	}{
		{"cap", mustRegion(t)(swing.Cap(centre, 1.2)), axis, centre, "ae740b890de95440", "eef9fbaf4e2af524"},
		{"limits", degrees(t, [2]float64{-40, 75}, [2]float64{-60, 20}), down, r3.Vec{X: -0.2, Y: -0.9, Z: 0.3}, "a2b924a7bbdc2994", "a4942ebb521c9e18"},
		{"polygon", mustRegion(t)(swing.Polygon(r3.Vec{X: 1, Y: 2}, r3.Vec{X: 1, Z: 3}, r3.Vec{X: 4, Y: -3, Z: -1})), axis, centre, "b91f51e442ac7f40", "f24aed1c9a359f67"},
	} {
		f := mustField(t)(swing.LeastRoll(c.axis, c.centre, c.region, 8))
		turned, err := f.Turned(quat.Number{Real: 3, Jmag: 1, Kmag: -1}, axis)
		require.NoError(t, err)
		got := []string{hash(t, c.region.Edge(), c.region.Area(), c.region.Perimeter()), hash(t, fieldFile(t, f), fieldFile(t, turned))}
		require.Equal(t, []string{c.edge, c.solved}, got, c.name)
	}
	balanced := mustField(t)(swing.Balanced(down, hipCentre, degrees(t, hipFlexion, hipAbduction), 8))
	require.Equal(t, "f4bcba81c33c5d04", hash(t, fieldFile(t, balanced)))
}

// TestSameBitsSwings: so have what fields and arcs give for directions all over.
func TestSameBitsSwings(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	vec := func() r3.Vec { // by integers alone, which are the same everywhere
		part := func() float64 { return float64(int64(random.Uint64()) >> 20) }
		return r3.Vec{X: part(), Y: part(), Z: part()}
	}
	region := mustRegion(t)(swing.Cap(axisX, 1.5))
	best := mustField(t)(swing.LeastRoll(axisX, axisX, region, 6))
	var swings []any
	points, tangents := make([]r3.Vec, 200), make([]r3.Vec, 200)
	for i := range points {
		axis, centre, to := vec(), vec(), vec()
		points[i], tangents[i] = axis, to
		arc, _ := swing.Arc(axis, to)
		centred, _ := swing.Centred(axis, centre, to)
		corrected, _ := best.Swing(to)
		aimed, _ := swing.AimIn(arc, centred, centre, to)
		x, y := best.Plane(to)
		swings = append(swings, arc, centred, corrected, aimed, x, y, best.CorrectionAt(math.Abs(x), 0.1))
	}
	swings = append(swings, swing.Transport(nil, points, tangents, axisX))
	require.Equal(t, "006a46b4dff16d35", hash(t, swings...))
}
