package rest

import (
	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/spatial/r3"
)

// Anchor returns the rigid frame a limb can hold on to in an affine matrix:
// its position and the rotation nearest to its linear part, as [Nearest] finds
// it. Scale and shear are dropped and reported, and so is a reflection. The
// fourth row is taken to be 0, 0, 0, 1 and not read.
func Anchor(m mgl64.Mat4) (Frame, Residual) {
	q, residual := Nearest(m.Mat3())
	return Frame{Position: r3.Vec{X: m[12], Y: m[13], Z: m[14]}, Rotation: q}, residual
}
