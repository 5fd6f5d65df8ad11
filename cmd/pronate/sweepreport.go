package main

import "math"

// sweepReport is what sweep prints as JSON: rolls in radians a radian, angles in
// degrees.
type sweepReport struct {
	Range             string                 `json:"range"`
	AreaOverPerimeter float64                `json:"area_over_perimeter"`
	Fields            map[string]fieldReport `json:"fields"`
	Files             []string               `json:"files,omitempty"`
}

type fieldReport struct {
	Worst   *float64   `json:"worst"` // null where there is no bound
	RMS     *float64   `json:"rms"`   // null where there is no bound
	WorstAt [2]float64 `json:"worst_at_deg"`
	Flips   int        `json:"flips"`
}

func (s *swept) report(written []string) sweepReport {
	out := sweepReport{Range: s.name, AreaOverPerimeter: s.found.Bound, Fields: map[string]fieldReport{}, Files: written}
	for _, f := range s.fields() {
		out.Fields[f.name] = fieldReport{
			Worst: bounded(f.Worst), RMS: bounded(f.RMS),
			WorstAt: [2]float64{wholeDegrees(f.WorstAt.Flexion), wholeDegrees(f.WorstAt.Abduction)}, Flips: len(f.Flips),
		}
	}
	return out
}

// wholeDegrees is an angle in degrees, without the rounding that radians left.
func wholeDegrees(radians float64) float64 { return math.Round(radians*180/math.Pi*1e9)/1e9 + 0 }

// bounded is a number that JSON has a form for, or nil.
func bounded(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}
