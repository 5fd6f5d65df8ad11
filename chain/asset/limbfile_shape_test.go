package asset

import (
	"math"

	"pgregory.net/rapid"
)

// stretchGenerator draws stretches that go with a limb.
func stretchGenerator(limb LimbSpec, other func(string) string) *rapid.Generator[*Stretch] {
	return rapid.Custom(func(t *rapid.T) *Stretch {
		s := &Stretch{By: StretchByEnd}
		if limb.End.Point != nil || rapid.Bool().Draw(t, "by a joint") {
			s.By = "joint " + other("by")
		}
		if rapid.Bool().Draw(t, "limited") {
			s.Limits = [2]float64{rapid.Float64Range(1e-9, 1).Draw(t, "least"), rapid.Float64Range(1, math.MaxFloat64).Draw(t, "most")}
		}
		if rapid.Bool().Draw(t, "shared") {
			s.Shares = make([]float64, limb.segments())
			for i := range s.Shares {
				s.Shares[i] = 1 / float64(limb.segments())
			}
			moved := rapid.Float64Range(0, s.Shares[0]).Draw(t, "moved")
			s.Shares[0] -= moved
			s.Shares[1] += moved
		}
		if rapid.Bool().Draw(t, "own exponent") {
			e := rapid.Float64Range(0, 1).Draw(t, "exponent")
			s.Exponent = &e
		}
		return s
	})
}

// creaseGenerator draws creases that do.
func creaseGenerator(limb LimbSpec) *rapid.Generator[*Crease] {
	return rapid.Custom(func(t *rapid.T) *Crease {
		c := &Crease{
			At: CreaseAtRoot, Most: rapid.Float64Range(1e-9, 1e9).Draw(t, "most"),
			OnsetDeg: rapid.Float64Range(0, 90).Draw(t, "onset"), FullDeg: rapid.Float64Range(90.5, 180).Draw(t, "full"),
		}
		if limb.End.Point == nil && rapid.Bool().Draw(t, "at the end") {
			c.At = CreaseAtEnd
		}
		return c
	})
}

// skinPartsGenerator draws parts of a skin.
func skinPartsGenerator(name *rapid.Generator[string]) *rapid.Generator[*SkinParts] {
	return rapid.Custom(func(t *rapid.T) *SkinParts {
		s := &SkinParts{Meshes: []string{name.Draw(t, "mesh")}}
		if rapid.Bool().Draw(t, "materials") {
			s.Materials = rapid.SliceOfNDistinct(name, 1, 3, rapid.ID[string]).Draw(t, "material names")
		}
		if rapid.Bool().Draw(t, "pieces") {
			s.Pieces = rapid.SliceOfNDistinct(name, 1, 3, rapid.ID[string]).Draw(t, "piece names")
		}
		if s.Pieces != nil && rapid.Bool().Draw(t, "pieces alone") {
			s.Meshes = nil
		}
		return s
	})
}
