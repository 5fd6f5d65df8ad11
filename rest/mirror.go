package rest

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is a coordinate plane to mirror in, named by the coordinate that
// changes sign. A character that looks along +Z with +Y up mirrors left to
// right with AcrossX. Any other value mirrors nothing.
//
// Mirroring only changes signs. Done twice it gives back every bit, and it
// commutes with products, frames' compositions and turned directions to the
// last bit (a zero may change its sign).
type Plane int

const (
	AcrossX Plane = iota // x changes sign
	AcrossY              // y changes sign
	AcrossZ              // z changes sign
)

// Vec mirrors a point or a direction.
func (p Plane) Vec(v r3.Vec) r3.Vec {
	switch p {
	case AcrossX:
		v.X = -v.X
	case AcrossY:
		v.Y = -v.Y
	case AcrossZ:
		v.Z = -v.Z
	}
	return v
}

// Rotation mirrors a rotation: M R M, M being the mirror's matrix. The axis of
// a rotation is not an arrow but a sense of turning, so the components in the
// plane change sign and the one across it stays: mirrored across x, a turn
// about x goes on as it is and a turn about y runs the other way.
func (p Plane) Rotation(q quat.Number) quat.Number {
	switch p {
	case AcrossX:
		q.Jmag, q.Kmag = -q.Jmag, -q.Kmag
	case AcrossY:
		q.Imag, q.Kmag = -q.Imag, -q.Kmag
	case AcrossZ:
		q.Imag, q.Jmag = -q.Imag, -q.Jmag
	}
	return q
}

// Frame mirrors a placement. The mirrored frame's axes are the mirror images
// with the axis across the plane turned back, so it is right-handed again.
func (p Plane) Frame(f Frame) Frame {
	return Frame{Position: p.Vec(f.Position), Rotation: p.Rotation(f.Rotation)}
}
