package skin

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/pronate/pronate/rest"
)

// screw turns about an axis along z through (1, 0, 0) and goes up.
func screw(angle, up float64) rest.Frame {
	f := rest.Frame{Rotation: turned(r3.Vec{Z: 1}, angle)}
	axis := r3.Vec{X: 1}
	f.Position = r3.Add(r3.Vec{Z: up}, r3.Sub(axis, f.Direction(axis)))
	return f
}

// Half and half of a screw motion and none is half the screw motion (Kavan et
// al. 2008: the blend keeps the screw axis, and by symmetry the middle).
func TestDualQuaternionHalvesAScrew(t *testing.T) {
	p := r3.Vec{X: 3, Y: -1, Z: 2}
	m := Mesh{Positions: []r3.Vec{p}, Influences: [][]Influence{{{0, 0.5}, {1, 0.5}}}}
	for _, angle := range []float64{0.1, math.Pi / 2, 3, -2} {
		got := DualQuaternion(nil, m, []rest.Frame{{}, screw(angle, 2)})
		requireNear(t, []r3.Vec{screw(angle/2, 1).Point(p)}, got, skinTolerance, "%v rad", angle)
	}
}

// Of a screw blended in any proportion each point keeps its distance from the
// axis; the angle is the blend's, 2 atan2(w sin, 1-w + w cos) of the half.
func TestDualQuaternionKeepsTheAxis(t *testing.T) {
	axis, p := r3.Vec{X: 1}, r3.Vec{X: 3, Y: 0, Z: 2}
	for _, w := range []float64{0, 0.1, 0.25, 0.7, 1} {
		m := Mesh{Positions: []r3.Vec{p}, Influences: [][]Influence{{{0, 1 - w}, {1, w}}}}
		got := r3.Sub(DualQuaternion(nil, m, []rest.Frame{{}, screw(2, 0)})[0], axis)
		require.InDelta(t, 2, math.Hypot(got.X, got.Y), skinTolerance, "w = %v", w)
		sin, cos := math.Sincos(1)
		require.InDelta(t, 2*math.Atan2(w*sin, 1-w+w*cos), math.Atan2(got.Y, got.X), skinTolerance, "w = %v", w)
	}
}

// q and -q, of any length, are the same joint: the heaviest one's side is
// taken, wherever it stands in the list.
func TestDualQuaternionSides(t *testing.T) {
	p := r3.Vec{X: 1, Y: 2, Z: 3}
	frames := []rest.Frame{screw(0.3, 0), screw(-1, 1), screw(2, 0.5)}
	for _, list := range [][]Influence{{{0, 0.5}, {1, 0.3}, {2, 0.2}}, {{1, 0.2}, {2, 0.2}, {0, 0.6}}} {
		m := Mesh{Positions: []r3.Vec{p}, Influences: [][]Influence{list}}
		want := DualQuaternion(nil, m, frames)
		for signs := range 8 {
			other := append([]rest.Frame(nil), frames...)
			for j := range other {
				if signs>>j&1 == 1 {
					other[j].Rotation = quat.Scale(-2, other[j].Rotation)
				}
			}
			requireNear(t, want, DualQuaternion(nil, m, other), skinTolerance, "signs %03b", signs)
		}
	}
	// Turned by 200 degrees against a heavier one that is not: the short way.
	m := Mesh{Positions: []r3.Vec{{X: 1}}, Influences: [][]Influence{{{0, 0.5}, {1, 0.5}}}}
	got := DualQuaternion(nil, m, []rest.Frame{{}, {Rotation: turned(r3.Vec{Z: 1}, 200*math.Pi/180)}})[0]
	require.InDelta(t, -80*math.Pi/180, math.Atan2(got.Y, got.X), skinTolerance)
}

// Rigid matrices are themselves; a stretched joint stays on its joint; what is
// dropped is told.
func TestRigid(t *testing.T) {
	frames := []rest.Frame{screw(0.3, 0), screw(-1, 1), {}}
	got, dropped := Rigid(nil, matrices(frames), nil)
	require.LessOrEqual(t, dropped, 16*eps)
	p := r3.Vec{X: 1, Y: 2, Z: 3}
	for j := range frames {
		requireNear(t, []r3.Vec{frames[j].Point(p)}, []r3.Vec{got[j].Point(p)}, skinTolerance, "joint %d", j)
	}

	origin, place := r3.Vec{X: 0.5, Y: 4, Z: 1}, r3.Vec{X: -1, Y: 2, Z: 7}
	stretched := mgl64.Translate3D(place.X, place.Y, place.Z).Mul4(frames[0].Mat4().Mat3().Mat4()).
		Mul4(mgl64.Scale3D(1, 3, 1)).Mul4(mgl64.Translate3D(-origin.X, -origin.Y, -origin.Z))
	got, dropped = Rigid(got, []mgl64.Mat4{stretched}, []r3.Vec{origin})
	requireNear(t, []r3.Vec{place}, []r3.Vec{got[0].Point(origin)}, skinTolerance, "on its joint")
	require.InDelta(t, 1, math.Abs(dot4(got[0].Rotation, frames[0].Rotation)), 16*eps)
	require.InDelta(t, 2/math.Sqrt(3), dropped, 16*eps)

	stretched[5] = math.NaN()
	got, dropped = Rigid(got, []mgl64.Mat4{mgl64.Ident4(), stretched, mgl64.Ident4()}, nil)
	require.True(t, math.IsNaN(dropped))
	require.True(t, math.IsNaN(got[1].Rotation.Real))
	require.Equal(t, p, got[2].Point(p))
}
