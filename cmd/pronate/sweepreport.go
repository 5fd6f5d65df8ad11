package main

import (
	"math"

	"github.com/pronate/pronate/chain/sweep"
)

// sweepReport is what sweep prints as JSON: rolls in radians per radian of sway,
// angles in degrees.
type sweepReport struct {
	Range             string                 `json:"range"`
	Flexion           [2]float64             `json:"flexion_deg"`
	Abduction         [2]float64             `json:"abduction_deg"`
	Units             string                 `json:"units"` // of rolls, for whoever reads the file alone
	AreaOverPerimeter float64                `json:"area_over_perimeter"`
	Fields            map[string]fieldReport `json:"fields"`
	Files             []string               `json:"files,omitempty"`
}

type fieldReport struct {
	None      string     `json:"none,omitempty"` // why there is no such field; the rest is then null and zero
	Worst     *float64   `json:"worst"`          // null where there is no bound
	RMS       *float64   `json:"rms"`            // null where there is no bound
	WorstAt   [2]float64 `json:"worst_at_deg"`
	Flips     int        `json:"flips"`
	CentreAt  [2]float64 `json:"centre_at_deg"` // the direction that swings go by way of; the shortest arc's is rest
	OverBound *float64   `json:"over_bound"`    // worst over area_over_perimeter; null where there is no bound
}

func (s *swept) report(written []string) sweepReport {
	out := sweepReport{
		Range: s.name, Flexion: bothDegrees(s.motion.Flexion), Abduction: bothDegrees(s.motion.Abduction),
		Units: "radians per radian of sway", AreaOverPerimeter: s.found.Bound, Fields: map[string]fieldReport{}, Files: written,
	}
	for _, f := range s.fields() {
		if f.None != nil {
			out.Fields[f.name] = fieldReport{None: ownWords(f.None)}
			continue
		}
		out.Fields[f.name] = fieldReport{
			Worst: bounded(f.Worst), RMS: bounded(f.RMS),
			WorstAt: placeDegrees(f.WorstAt), Flips: len(f.Flips), CentreAt: placeDegrees(f.CentreAt), OverBound: bounded(f.Ratio),
		}
	}
	return out
}

// wholeDegrees is an angle in degrees, without the rounding that radians left.
func wholeDegrees(radians float64) float64 { return math.Round(radians*180/math.Pi*1e9)/1e9 + 0 }

func bothDegrees(radians [2]float64) [2]float64 {
	return [2]float64{wholeDegrees(radians[0]), wholeDegrees(radians[1])}
}

func placeDegrees(p sweep.Place) [2]float64 { return bothDegrees([2]float64{p.Flexion, p.Abduction}) }

// bounded is a number that JSON has a form for, or nil.
func bounded(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}
