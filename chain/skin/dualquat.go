package skin

import (
	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/pronate/pronate/rest"
)

// DualQuaternion skins a mesh by blending its joints' placements as dual
// quaternions (Kavan, Collins, Žára & O'Sullivan 2008, ACM TOG 27(4):105).
// joints[j] is what joint j did since rest, a rigid motion; see [Rigid]. Unlike
// linear blending it always moves a vertex rigidly: where the joints turn about
// a common axis by different angles, no section shrinks.
//
// q and -q are the same rotation, but not in a sum. Each vertex' dual
// quaternions are therefore brought to the side of its heaviest joint's, of
// equals the first: one whose rotation has a negative dot product with that
// joint's is taken with the opposite sign. The blend is divided by the length of
// its real part, and of the dual part what is not at right angles to the real
// one drops out.
//
// It overwrites dst, grown if need be, and returns it, one place a vertex; dst
// may be m.Positions itself. With room in dst nothing is allocated. A vertex
// without a positive weight stays where it is at rest; identities leave it to
// the last bit. A joint out of range, or half turns that cancel, give NaN.
func DualQuaternion(dst []r3.Vec, m Mesh, joints []rest.Frame) []r3.Vec {
	dst = sized(dst, len(m.Positions))
	for v, p := range m.Positions {
		if v >= len(m.Influences) {
			dst[v] = p
			continue
		}
		dst[v] = dualQuaternion(p, m.Influences[v], joints)
	}
	return dst
}

func dualQuaternion(p r3.Vec, held []Influence, joints []rest.Frame) r3.Vec {
	pivot := -1
	for i, h := range held {
		if h.Weight > 0 && (pivot < 0 || h.Weight > held[pivot].Weight) {
			pivot = i
		}
		if h.Weight > 0 && (h.Joint < 0 || h.Joint >= len(joints)) {
			return nowhere()
		}
	}
	if pivot < 0 {
		return p
	}
	side := joints[held[pivot].Joint].Rotation
	if side == (quat.Number{}) {
		side.Real = 1 // as Frame.Unit reads it
	}
	var re, du quat.Number // the blend's parts; the dual one twice
	for _, h := range held {
		if !(h.Weight > 0) {
			continue
		}
		f := &joints[h.Joint]
		q := f.Unit()
		if dot4(q, side) < 0 {
			q = quat.Scale(-1, q)
		}
		t := f.Position
		re = quat.Add(re, quat.Scale(h.Weight, q))
		du = quat.Add(du, quat.Scale(h.Weight, quat.Mul(quat.Number{Imag: t.X, Jmag: t.Y, Kmag: t.Z}, q)))
	}
	// The rotation is re/|re|, the way 2 dual re* / |re|², its real part being
	// what is not at right angles. Dividing by |re|² once serves both.
	norm2 := dot4(re, re)
	way := quat.Mul(du, quat.Conj(re))
	u := r3.Vec{X: re.Imag, Y: re.Jmag, Z: re.Kmag}
	turned := r3.Cross(u, p)
	turned = r3.Add(r3.Scale(re.Real, turned), r3.Cross(u, turned))
	moved := r3.Add(r3.Scale(2, turned), r3.Vec{X: way.Imag, Y: way.Jmag, Z: way.Kmag})
	return r3.Add(p, r3.Scale(1/norm2, moved))
}

func dot4(a, b quat.Number) float64 {
	return a.Real*b.Real + a.Imag*b.Imag + a.Jmag*b.Jmag + a.Kmag*b.Kmag
}

// Rigid parts affine matrices, as [Linear] takes them, into the rigid motions
// that [DualQuaternion] takes, so that both can be fed from the same: the
// rotation nearest to the linear part ([rest.Nearest]), placed so that it takes
// the joint's own place at rest, origins[j], where the matrix takes it. A
// joint that is stretched thus stays on its joint. Rigid matrices come back as
// they were.
//
// It overwrites dst, grown if need be, and returns it, one frame a matrix, with
// the greatest stretch or shear that was dropped: the Frobenius norm of M - R
// over R's, no more than rounding for rigid matrices. A joint without an origin
// has it at 0, 0, 0. A matrix that is not finite gives NaN in its frame, and in
// dropped.
func Rigid(dst []rest.Frame, joints []mgl64.Mat4, origins []r3.Vec) (motions []rest.Frame, dropped float64) {
	dst = sized(dst, len(joints))
	for j := range joints {
		m := &joints[j]
		f, _ := rest.Anchor(*m)
		dropped = max(dropped, beyondRotation(m, f)) // NaN stays NaN
		if j < len(origins) {
			f.Position = r3.Sub(apply(m, origins[j]), f.Direction(origins[j]))
		}
		dst[j] = f
	}
	return dst, dropped
}

// beyondRotation is the Frobenius norm of a matrix' linear part less a frame's
// rotation, over the rotation's, sqrt(3).
func beyondRotation(m *mgl64.Mat4, f rest.Frame) float64 {
	var away [3]r3.Vec
	for column, axis := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		is := r3.Vec{X: m[4*column], Y: m[4*column+1], Z: m[4*column+2]}
		away[column] = r3.Scale(1/sqrt3, r3.Sub(is, f.Direction(axis)))
	}
	return r3.Norm(r3.Vec{X: r3.Norm(away[0]), Y: r3.Norm(away[1]), Z: r3.Norm(away[2])})
}

const sqrt3 = 1.7320508075688772
