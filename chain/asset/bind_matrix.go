package asset

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// same reports whether two frames are within a tolerance of one another.
func (b *binder) same(x, y mgl64.Mat4, tolerance float64) bool {
	return x.Col(3).Sub(y.Col(3)).Len() <= tolerance*b.reach && sameLinear(x.Mat3(), y.Mat3(), tolerance)
}

// sameLinear compares the matrices' entries with the root of all their squares.
func sameLinear(x, y mgl64.Mat3, tolerance float64) bool {
	var off, size float64
	for i := range x {
		off += (x[i] - y[i]) * (x[i] - y[i])
		size += x[i] * x[i]
	}
	return off <= tolerance*tolerance*size
}

// takenApartLike is takenApart for a node whose scale had these signs: it mirrors
// along the same axes where it can.
func takenApartLike(m mgl64.Mat4, scale [3]float64) (transform, float64) {
	var signs mgl64.Vec3
	for i := range signs {
		signs[i] = math.Copysign(1, scale[i])
	}
	if m.Mat3().Det()*signs[0]*signs[1]*signs[2] < 0 {
		return takenApart(m)
	}
	frame, residual := rest.Anchor(m.Mul4(mgl64.Scale3D(signs.Elem())))
	return transform{
		translation: [3]float64{m[12], m[13], m[14]},
		rotation:    frame.Unit(),
		scale:       [3]float64{signs[0] * residual.Scale.X, signs[1] * residual.Scale.Y, signs[2] * residual.Scale.Z},
	}, residual.Shear
}

// inverted is the inverse of an affine matrix; false where it is flat or not finite.
// (mathgl's takes small frames, as of a character in tenths of a millimetre, for
// flat.)
func inverted(m mgl64.Mat4) (mgl64.Mat4, bool) {
	a, b, c := m.Col(0).Vec3(), m.Col(1).Vec3(), m.Col(2).Vec3()
	// The volume that the axes span, of that of a box with such edges: float32
	// axes under 1e-6 are flat but for rounding.
	const flat = 1e-6
	det := a.Dot(b.Cross(c))
	if !(math.Abs(det) > flat*a.Len()*b.Len()*c.Len()) || !isFinite(m) {
		return mgl64.Mat4{}, false
	}
	rows := mgl64.Mat3FromRows(b.Cross(c).Mul(1/det), c.Cross(a).Mul(1/det), a.Cross(b).Mul(1/det))
	out := rows.Mat4()
	out.SetCol(3, rows.Mul3x1(m.Col(3).Vec3()).Mul(-1).Vec4(1))
	return out, isFinite(out)
}

// isFinite reports whether a float32 can hold all of a matrix.
func isFinite(m mgl64.Mat4) bool {
	for _, x := range m {
		if !(math.Abs(x) <= math.MaxFloat32) {
			return false
		}
	}
	return true
}

// extentOf is the greatest extent, along any axis, of where frames stand.
func extentOf(frames []mgl64.Mat4) float64 {
	if len(frames) == 0 {
		return 0
	}
	var points []r3.Vec
	for _, m := range frames {
		points = append(points, rest.VecFromMgl64(m.Col(3).Vec3()))
	}
	size := boxOf(points).Size()
	return max(size.X, size.Y, size.Z)
}
