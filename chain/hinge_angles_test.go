package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func hingeRotated(q quat.Number, v r3.Vec) r3.Vec { return rest.Frame{Rotation: q}.Direction(v) }

func isbHinge(t require.TestingT) chain.Hinge {
	h, err := chain.NewHinge(r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	return h
}

// hingePublished is how many digits the published components have.
const hingePublished = 1e-12

// Grood and Suntay 1983 in ISB axes: the quaternion of 40, -5, 10 degrees.
func TestHingePublished(t *testing.T) {
	h := isbHinge(t)
	q := quat.Number{Real: 0.936526082063, Imag: -0.070613489654, Jmag: 0.066959719113, Kmag: 0.336821954020}
	same(t, q, h.Rotation(40*hingeDegree, -5*hingeDegree, 10*hingeDegree), hingePublished)
	got := h.Measure(q)
	require.True(t, got.Defined)
	require.InDelta(t, 40*hingeDegree, got.Flexion, 4*hingePublished)
	require.InDelta(t, -5*hingeDegree, got.SideBend, 4*hingePublished)
	require.InDelta(t, 10*hingeDegree, got.Twist, 4*hingePublished)
}

// Grood and Suntay's own recipe, from the axes themselves: e1 the hinge's, e3 the
// far bone's, e2 = e3 x e1 floating; alpha = atan2(e2·Y, e2·X), sin beta = e3·e1,
// gamma = atan2(e2·z, e2·x) of the near and the far bone's axes.
func TestHingeFloatingAxis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := isbHinge(t)
		q := rotationOf(t, "q")
		e3 := hingeRotated(q, r3.Vec{Y: 1})
		e2 := r3.Cross(e3, r3.Vec{Z: 1})
		if r3.Norm(e2) < 0.01 {
			t.Skip("near gimbal lock")
		}
		// 0.01 and the recipe's own rounding.
		const tolerance = 100 * 32 * 0x1p-52
		got := h.Measure(q)
		nearAngle(t, math.Atan2(e2.Y, e2.X), got.Flexion, tolerance)
		nearAngle(t, math.Atan2(e3.Z, r3.Norm(e2)), got.SideBend, tolerance)
		far := hingeRotated(quat.Conj(q), e2)
		nearAngle(t, math.Atan2(far.Z, far.X), got.Twist, tolerance)
	})
}

// nearAngle compares angles, whole turns being none.
func nearAngle(t require.TestingT, want, got, tolerance float64, about ...any) {
	require.InDelta(t, 0, math.Remainder(want-got, 2*math.Pi), tolerance, about...)
}

// Any hinge, any angles: what was put together comes apart, at any length and for
// both signs. The rotation itself is off by no more than half of MaxHingeError.
func propertyHingeRoundTrip(t *rapid.T) {
	h, err := chain.NewHinge(draw.Direction().Draw(t, "bone"), draw.Direction().Draw(t, "axis"))
	if err != nil {
		t.Skip("no hinge")
	}
	angle := func(name string, most float64) float64 {
		return rapid.OneOf(rapid.Float64Range(-most, most), rapid.SampledFrom([]float64{0, most, -most, 1e-9, -1e-300})).Draw(t, name)
	}
	flexion, side, twisted := angle("flexion", math.Pi), angle("side", math.Pi/2-1e-3), angle("twist", math.Pi)
	q := h.Rotation(flexion, side, twisted)
	length := rapid.SampledFrom([]float64{1, -1, 3, 1e-200, -1e200}).Draw(t, "length")
	got := h.Measure(quat.Scale(length, q))
	require.True(t, got.Defined)
	const tolerance = 1.5 * chain.MaxHingeError
	require.InDelta(t, side, got.SideBend, tolerance)
	nearAngle(t, flexion, got.Flexion, tolerance/math.Cos(side))
	nearAngle(t, twisted, got.Twist, tolerance/math.Cos(side))
}

func TestHingeRoundTrip(t *testing.T) { rapid.Check(t, propertyHingeRoundTrip) }

// From any rotation: the angles are in their ranges and give it back, at gimbal
// lock too.
func propertyHingeTotal(t *rapid.T) {
	h, err := chain.NewHinge(draw.Direction().Draw(t, "bone"), draw.Direction().Draw(t, "axis"))
	if err != nil {
		t.Skip("no hinge")
	}
	q := draw.Rotation().Draw(t, "q")
	got := h.Measure(q)
	require.LessOrEqual(t, math.Abs(got.Flexion), math.Pi)
	require.LessOrEqual(t, math.Abs(got.SideBend), math.Pi/2)
	require.LessOrEqual(t, math.Abs(got.Twist), math.Pi)
	same(t, rest.Frame{Rotation: q}.Unit(), h.Rotation(got.Flexion, got.SideBend, got.Twist), chain.MaxHingeError)
}

func TestHingeTotal(t *testing.T) { rapid.Check(t, propertyHingeTotal) }

func FuzzHingeRoundTrip(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyHingeRoundTrip)) }
func FuzzHingeTotal(f *testing.F)     { f.Fuzz(rapid.MakeFuzz(propertyHingeTotal)) }

func TestHingeSingular(t *testing.T) {
	h := isbHinge(t)
	// A quarter turn of side-bend: flexion and twist show as their sum or
	// difference.
	half := math.Sqrt2 / 2
	got := h.Measure(quat.Number{Real: half, Imag: half})
	require.Equal(t, chain.HingeAngles{SideBend: math.Pi / 2}, got)
	got = h.Measure(h.Rotation(0.3, -math.Pi/2, 0.2))
	require.InDelta(t, -math.Pi/2, got.SideBend, chain.MaxHingeError)
	same(t, h.Rotation(0.3, -math.Pi/2, 0.2), h.Rotation(got.Flexion, got.SideBend, got.Twist), chain.MaxHingeError)

	require.Equal(t, chain.HingeAngles{}, h.Measure(quat.Number{}))
	require.Equal(t, chain.HingeAngles{}, chain.Hinge{}.Measure(quat.Number{Real: 0.6, Imag: 0.8}), "no hinge")
	require.True(t, math.IsNaN(chain.Hinge{}.Measure(quat.NaN()).Flexion))
	for _, q := range []quat.Number{{Real: math.NaN()}, {Imag: math.Inf(1)}, {Real: 1, Kmag: math.NaN()}} {
		got := h.Measure(q)
		require.True(t, math.IsNaN(got.Flexion) && math.IsNaN(got.SideBend) && math.IsNaN(got.Twist) && !got.Defined, "%v", q)
	}
	require.Equal(t, chain.HingeAngles{Defined: true}, h.Measure(quat.Number{Real: -2}))
}

// A positive side-bend leans the bone towards the axis.
func TestHingeSideBendLeansToTheAxis(t *testing.T) {
	h, err := chain.NewHinge(r3.Vec{X: 1, Y: 2}, r3.Vec{X: 3, Z: 4})
	require.NoError(t, err)
	for _, flexion := range []float64{0, 1, -2} {
		leaning := hingeRotated(h.Rotation(flexion, 0.2, 0.7), h.Bone())
		require.InDelta(t, math.Sin(0.2), r3.Dot(leaning, h.Axis()), 4*0x1p-52)
	}
}

func TestHingeMeasuresWithoutAllocating(t *testing.T) {
	h, q := isbHinge(t), quat.Number{Real: 1, Imag: 0.2, Jmag: 0.3, Kmag: 0.4}
	sum := 0.
	require.Zero(t, testing.AllocsPerRun(100, func() { sum += h.Measure(q).Flexion }))
	require.NotZero(t, sum)
}
