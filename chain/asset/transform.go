package asset

import (
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// transform is a node's local transform, T·R·S as glTF 2.0 composes it.
type transform struct {
	translation [3]float64
	rotation    quat.Number
	scale       [3]float64
	matrix      *mgl64.Mat4 // for a node given by a matrix, which no channel may move
}

// ownTransform is the node as the file holds it.
func ownTransform(n *gltf.Node) transform {
	if m := mgl64.Mat4(n.MatrixOrDefault()); m != mgl64.Ident4() {
		x, _ := takenApart(m)
		x.matrix = &m
		return x
	}
	r := n.RotationOrDefault()
	return transform{translation: n.Translation, rotation: quaternion(r[:]), scale: n.Scale}
}

// takenApart is a matrix as translation, rotation and scale. The rotation is the one
// nearest to it, or, where it mirrors, to it with x the other way, and the scale
// what that leaves on the diagonal: exact for a matrix without shear. shear is the
// part of the matrix that is neither, as in rest.Residual.
func takenApart(m mgl64.Mat4) (x transform, shear float64) {
	mirror := 1.
	if m.Mat3().Det() < 0 {
		mirror = -1
	}
	frame, residual := rest.Anchor(m.Mul4(mgl64.Scale3D(mirror, 1, 1)))
	return transform{
		translation: [3]float64{m[12], m[13], m[14]},
		rotation:    frame.Unit(),
		scale:       [3]float64{mirror * residual.Scale.X, residual.Scale.Y, residual.Scale.Z},
	}, residual.Shear
}

// at is the node's transform in a clip; tracks may be nil.
func (x transform) at(tracks *nodeTracks, t float64) transform {
	if tracks == nil {
		return x
	}
	x.matrix = nil
	if tracks.rotation != nil {
		x.rotation = tracks.rotation.rotation(t)
	}
	if tracks.translation != nil {
		x.translation = tracks.translation.vector(t)
	}
	if tracks.scale != nil {
		x.scale = tracks.scale.vector(t)
	}
	return x
}

// mat4 is the local matrix.
func (x transform) mat4() mgl64.Mat4 {
	if x.matrix != nil {
		return *x.matrix
	}
	m := rest.Frame{Rotation: x.rotation}.Mat4()
	for column, s := range x.scale {
		for row := range 3 {
			m[4*column+row] *= s
		}
	}
	m[12], m[13], m[14] = x.translation[0], x.translation[1], x.translation[2]
	return m
}

// outside carries a direction in the node's frame out of its own scale, to where its
// rotation stands: seen from there it points elsewhere where the scale is uneven or
// mirrors.
func (x transform) outside(v r3.Vec) r3.Vec {
	scaled := rest.VecFromMgl64(x.mat4().Mat3().Mul3x1(rest.VecToMgl64(v)))
	return rest.Frame{Rotation: x.rotation}.Inverse().Direction(scaled)
}

// isUniform reports whether the scale is the same along every axis and not a
// reflection, to the rounding of a float32: then it leaves rotations alone.
func (x transform) isUniform() bool {
	s := x.scale
	const relative = 1e-6
	if !(s[0] > 0) {
		return false
	}
	return within(s[1], s[0], relative*s[0]) && within(s[2], s[0], relative*s[0])
}

func within(a, b, tolerance float64) bool { return a-b <= tolerance && b-a <= tolerance }
