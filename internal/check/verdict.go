package check

import (
	"fmt"
	"math"
)

// How much of a section's radius has to be left (common practice, no source):
// above kept nobody sees a difference, below lost anybody does. A volume may be
// off by as much as a radius may be before it is lost.
const (
	kept = 0.95
	lost = 0.85
)

// differs is by how much of the rest radius two poses have to differ to be told
// apart.
const differs = 0.01

// outcome is what segments do to a limb in a pose.
type outcome int

const (
	unmeasured outcome = iota
	better
	worse
	same
)

func (p Pose) outcome() outcome {
	switch gain := p.After.Radius - p.Before.Radius; {
	case !isNumber(gain):
		return unmeasured
	case gain > differs:
		return better
	case gain < -differs:
		return worse
	}
	return same
}

// word is what a radius is called.
func word(radius float64) string {
	switch {
	case radius >= kept:
		return "holds"
	case radius >= lost:
		return "narrows"
	}
	return "collapses"
}

// why is what narrows a limb as much split as not.
func (p Pose) why() string {
	switch p.Kind {
	case Corner:
		return "bend"
	case Twist:
		return "weights or mesh"
	}
	return "bend or mesh"
}

// verdict says in a few words what the segments do.
func (p Pose) verdict() string {
	after := word(p.After.Radius)
	var text string
	switch p.outcome() {
	case unmeasured:
		return "not measured"
	case better:
		text = fmt.Sprintf("better: %s to %s", percent(p.Before.Radius), percent(p.After.Radius))
	case worse:
		text = fmt.Sprintf("worse: %s to %s", percent(p.Before.Radius), percent(p.After.Radius))
	default:
		if text = "same, " + after; after != "holds" {
			text += " (" + p.why() + ")"
		}
	}
	if after == "holds" && isOff(p.After.Volume) {
		text += ", volume " + percent(p.After.Volume)
	}
	return text
}

// isOff tells of a volume that shows, though the radius holds.
func isOff(volume float64) bool { return math.Abs(volume-1) > 1-lost }

// HoldsEitherWay tells of a pose that needs no looking at: the limb holds, its
// volume is right, and segments change neither.
func (p Pose) HoldsEitherWay() bool {
	return p.outcome() == same && word(p.Before.Radius) == "holds" && word(p.After.Radius) == "holds" &&
		!isOff(p.After.Volume) && p.IsAlike()
}

// IsAlike tells of a pose in which segments change neither radius nor volume by
// more than a hundredth.
func (p Pose) IsAlike() bool {
	return math.Abs(p.After.Radius-p.Before.Radius) <= differs && math.Abs(p.After.Volume-p.Before.Volume) <= differs
}

func percent(part float64) string { return fmt.Sprintf("%.0f %%", 100*part) }

// overall sums the poses up.
func (f *Findings) overall() string {
	count := map[outcome]int{}
	failing := 0
	for _, p := range f.Poses {
		count[p.outcome()]++
		if p.After.Radius < lost {
			failing++
		}
	}
	text := fmt.Sprintf("Of %d poses, %d are better with segments, %d worse, %d the same", len(f.Poses), count[better], count[worse], count[same])
	if n := count[unmeasured]; n > 0 {
		text += fmt.Sprintf(", %d not measured", n)
	}
	if failing > 0 {
		return text + fmt.Sprintf("; in %d a limb still loses more than %s of its radius somewhere.", failing, percent(1-lost))
	}
	return text + fmt.Sprintf("; nowhere does a limb lose more than %s of its radius.", percent(1-lost))
}
