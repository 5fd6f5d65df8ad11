package skin

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh is a skinned mesh at rest.
type Mesh struct {
	Positions []r3.Vec // of the vertices, metres
	// Influences lists the joints that hold each vertex, as many lists as there
	// are vertices. A vertex with an empty list is held by nothing and stays
	// where it is. May be nil for what only measures and does not skin.
	Influences [][]Influence
	Triangles  [][3]int // vertices, counter-clockwise seen from outside
}

// MaxWeightSumError is how far from 1 the weights of a vertex may add up for
// Mesh.Check: what four 8-bit weights make that were each rounded by half a
// step of 1/255. (glTF 2.0, 3.7.3.3, wants integer weights to add up exactly
// and float ones nearly; the skinnings here divide by the sum.)
const MaxWeightSumError = 2.0 / 255

// Check says what is wrong with a mesh that is to be skinned to a number of
// joints: a place that is not finite, a list of influences too few, a joint or
// a triangle's vertex out of range, a weight that is negative or not a number,
// weights that do not add up to 1. nil where all is well.
func (m Mesh) Check(joints int) error {
	for v, p := range m.Positions {
		if !finite(p) {
			return fmt.Errorf("skin: vertex %d is at %v, expected finite coordinates", v, p)
		}
	}
	if m.Influences != nil && len(m.Influences) != len(m.Positions) {
		return fmt.Errorf("skin: %d lists of influences, expected one for each of %d vertices", len(m.Influences), len(m.Positions))
	}
	for v, list := range m.Influences {
		if err := checkInfluences(v, list, joints); err != nil {
			return err
		}
	}
	return checkTriangles(m.Triangles, len(m.Positions))
}

func checkInfluences(v int, list []Influence, joints int) error {
	var sum float64
	for i, held := range list {
		if held.Joint < 0 || held.Joint >= joints {
			return fmt.Errorf("skin: vertex %d, influence %d: joint %d, expected one of %d", v, i, held.Joint, joints)
		}
		if !(held.Weight >= 0 && held.Weight <= math.MaxFloat64) {
			return fmt.Errorf("skin: vertex %d, influence %d (joint %d): weight %v, expected 0 to 1", v, i, held.Joint, held.Weight)
		}
		sum += held.Weight
	}
	if len(list) > 0 && !(math.Abs(sum-1) <= MaxWeightSumError) {
		return fmt.Errorf("skin: vertex %d: weights add up to %v, expected 1", v, sum)
	}
	return nil
}

func checkTriangles(triangles [][3]int, vertices int) error {
	for i, t := range triangles {
		for _, v := range t {
			if v < 0 || v >= vertices {
				return fmt.Errorf("skin: triangle %d: vertex %d, expected one of %d", i, v, vertices)
			}
		}
	}
	return nil
}

func finite(p r3.Vec) bool { return p.X-p.X == 0 && p.Y-p.Y == 0 && p.Z-p.Z == 0 }

func nowhere() r3.Vec { return r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()} }

// sized is dst with n elements, its memory used again where there is enough.
func sized[T any](dst []T, n int) []T {
	if cap(dst) < n {
		return make([]T, n)
	}
	return dst[:n]
}
