package check

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
)

// How much of a section's radius has to be left (common practice, no source):
// above kept nobody sees a difference, below lost anybody does. A volume may be
// off by as much as a radius may be before it is told.
const (
	kept = 0.95
	lost = 0.85
)

// Outcome is what a split does to the skin in a pose, by the strain of all skin.
type Outcome string

const (
	Better     Outcome = "better"
	Worse      Outcome = "worse"
	Same       Outcome = "same"
	Unmeasured Outcome = "not measured"
)

// outcomeOf compares strains as the automatic choice does.
func outcomeOf(before, after float64) Outcome {
	switch {
	case !isNumber(before) || !isNumber(after):
		return Unmeasured
	case after > (1+asset.WorseBy)*before+asset.StrainSlack:
		return Worse
	case after < (1-asset.WorseBy)*before-asset.StrainSlack:
		return Better
	}
	return Same
}

// changeOf is by how much strain grows, as a logarithm: what does not show counts
// little.
func changeOf(before, after float64) float64 {
	return math.Log((after + asset.StrainSlack) / (before + asset.StrainSlack))
}

// Change is by how much the split raises the strain of a pose, as a logarithm; below 0
// where it lowers it.
func (p Pose) Change() float64 { return changeOf(p.Before.Strain, p.After.Strain) }

// verdict says in a few words what the split does.
func (p Pose) verdict() string {
	text := string(p.Outcome)
	if p.Outcome == Better || p.Outcome == Worse {
		text += fmt.Sprintf(": strain %+.0f %%", 100*(p.After.Strain/p.Before.Strain-1))
	}
	if math.Abs(p.After.Volume-1) > 1-kept && math.Abs(p.After.Volume-p.Before.Volume) > alike {
		text += ", volume " + percent(p.After.Volume)
	}
	return text
}

// alike is by how much of the rest radius or volume two poses have to differ to be
// told apart.
const alike = 0.01

// IsAlike reports whether a pose shows no difference: neither strain nor radius nor
// volume change.
func (p Pose) IsAlike() bool {
	return p.Outcome == Same && !(math.Abs(p.After.Radius-p.Before.Radius) > alike) && !(math.Abs(p.After.Volume-p.Before.Volume) > alike)
}

func percent(part float64) string { return fmt.Sprintf("%.0f %%", 100*part) }

// Tally counts outcomes.
type Tally struct {
	Count      int `json:"count"`
	Better     int `json:"better"`
	Worse      int `json:"worse"`
	Same       int `json:"same"`
	Unmeasured int `json:"not_measured"`
}

func (t *Tally) add(o Outcome) {
	t.Count++
	switch o {
	case Better:
		t.Better++
	case Worse:
		t.Worse++
	case Same:
		t.Same++
	default:
		t.Unmeasured++
	}
}

func (t Tally) text(what string) string {
	text := fmt.Sprintf("In %d %s: %d better, %d worse, %d same", t.Count, what, t.Better, t.Worse, t.Same)
	if t.Unmeasured > 0 {
		text += fmt.Sprintf(", %d not measured", t.Unmeasured)
	}
	return text + "."
}

// tally sums up clips and synthetic poses. A clip is worse if any of its frames is,
// and better if some is and none is worse.
func (f *Findings) tally(clips int) {
	for number := 1; number <= clips; number++ {
		var outcomes []Outcome
		for _, p := range f.Poses {
			if p.Kind == Clip && p.Number == number {
				outcomes = append(outcomes, p.Outcome)
			}
		}
		is := Same
		for _, o := range []Outcome{Worse, Better, Unmeasured} {
			if slices.Contains(outcomes, o) {
				is = o
				break
			}
		}
		f.Clips.add(is)
	}
	for _, p := range f.Poses {
		if p.Kind != Clip {
			f.Synthetic.add(p.Outcome)
		}
	}
	f.ClipsVerdict, f.SyntheticVerdict = f.Clips.text(plural(clips, "clip")+" of the character"), f.Synthetic.text("synthetic poses")
	if clips == 0 {
		f.ClipsVerdict = "The character has no clips."
	}
	if len(f.Limbs) == 0 {
		f.ClipsVerdict, f.SyntheticVerdict = "No limb is split: the split is the source.", "Synthetic poses are not measured."
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return what
	}
	return what + "s"
}
