package skin

import (
	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/spatial/r3"
)

// Linear skins a mesh by linear blending: each vertex goes to the mean of where
// its joints' matrices take it, weighted by its weights (Magnenat-Thalmann,
// Laperrière & Thalmann 1988; glTF 2.0, 3.7.3). joints[j] is what joint j did
// since rest: its world matrix times its inverse bind matrix, column vectors,
// stored column by column; the fourth row is taken to be 0, 0, 0, 1.
//
// It overwrites dst, grown if need be, and returns it, one place a vertex; dst
// may be m.Positions itself. With room in dst nothing is allocated.
//
// The mean is taken about where the first joint takes the vertex, so that
// joints that all did the same move it as one of them alone, to the last bit,
// and identities leave it; weights that do not quite add up to 1 are divided by
// their sum. A vertex without a positive weight stays where it is at rest. A
// joint out of range gives NaN.
func Linear(dst []r3.Vec, m Mesh, joints []mgl64.Mat4) []r3.Vec {
	dst = sized(dst, len(m.Positions))
	for v, p := range m.Positions {
		if v >= len(m.Influences) {
			dst[v] = p
			continue
		}
		dst[v] = linear(p, m.Influences[v], joints)
	}
	return dst
}

func linear(p r3.Vec, held []Influence, joints []mgl64.Mat4) r3.Vec {
	var first, rest r3.Vec // where the first joint takes p, and what the others add to it
	var whole float64
	for _, h := range held {
		if !(h.Weight > 0) {
			continue
		}
		if h.Joint < 0 || h.Joint >= len(joints) {
			return nowhere()
		}
		at := apply(&joints[h.Joint], p)
		if whole == 0 {
			first = at
		} else {
			rest = r3.Add(rest, r3.Scale(h.Weight, r3.Sub(at, first)))
		}
		whole += h.Weight
	}
	if whole == 0 {
		return p
	}
	return r3.Add(first, r3.Scale(1/whole, rest))
}

// apply is where an affine matrix takes a point.
func apply(m *mgl64.Mat4, p r3.Vec) r3.Vec {
	return r3.Vec{
		X: m[0]*p.X + m[4]*p.Y + m[8]*p.Z + m[12],
		Y: m[1]*p.X + m[5]*p.Y + m[9]*p.Z + m[13],
		Z: m[2]*p.X + m[6]*p.Y + m[10]*p.Z + m[14],
	}
}
