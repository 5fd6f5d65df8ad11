package check

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/asset"
)

// A figure gets worse if it does so by more than tolerated, as a part of it, and a
// change is worth advising if the figure falls by more than worthwhile.
const (
	tolerated  = 0.01
	worthwhile = 0.10
)

// Names of figures.
const (
	figureWeightMoved = "weight moved"
	figureStrain      = "strain, split: %s, %s"        // limb, pose
	figureOverlap     = "self-intersection, split: %s" // joint; metres
)

// Figures are what a check may complain about, by name: the less the better.
func (f *Findings) Figures() map[string]float64 {
	out := map[string]float64{figureWeightMoved: f.weightMoved}
	for _, p := range f.Poses {
		out[fmt.Sprintf(figureStrain, p.Limb, p.Name)] = p.After.Strain
	}
	for _, fold := range f.Folds {
		out[fmt.Sprintf(figureOverlap, fold.Joint)] = fold.After
	}
	return out
}

// worsened names a listed figure that is worse in one measurement than in another;
// empty where none is. A strain that is above the source's already may not rise at all:
// advice that is followed again and again would add up.
func (c *inspection) worsened(was, is *measurement) string {
	rises := func(source, was, is float64) bool {
		most := min((1+tolerated)*was, max(was, (1+tolerated)*source))
		return is > most+asset.StrainSlack || isNumber(was) && !isNumber(is)
	}
	for clip, k := range c.clips {
		for i, t := range k.times {
			if rises(k.source[i], was.clips[clip][i], is.clips[clip][i]) {
				return fmt.Sprintf("%s at %.2f s", k.name, t)
			}
		}
	}
	for i, p := range c.findings.Poses {
		was, is := was.poses[i], is.poses[i]
		switch {
		case rises(p.Before.Strain, was.Strain, is.Strain):
			return p.Limb + " " + p.where
		case is.Radius < (1-tolerated)*was.Radius:
			return "radius of " + p.Limb + " " + p.where
		case math.Abs(is.Volume-1) > math.Abs(was.Volume-1)+tolerated:
			return "volume of " + p.Limb + " " + p.where
		}
	}
	for i, f := range c.findings.Folds {
		was, is := was.folds[i], is.folds[i]
		const rounding = 1e-6 // of the bone
		if is.overlap > (1+tolerated)*was.overlap+rounding*f.Length {
			return "self-intersection at " + f.Joint
		}
		if rises(f.StrainBefore, was.strain, is.strain) {
			return "strain at " + f.Joint + ", closed"
		}
	}
	return ""
}
