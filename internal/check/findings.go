package check

import (
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
)

// Kind says where a pose comes from.
type Kind string

const (
	Corner Kind = "range" // a corner of the joint's range of motion
	Twist  Kind = "twist" // a twist of the limb and nothing else
	Clip   Kind = "clip"  // the worst moment of a clip
)

// Findings are what a check found.
type Findings struct {
	Size     float64             `json:"size_m"` // the longest side of the box round the skin at rest
	Limbs    []Limb              `json:"limbs"`
	Poses    []Pose              `json:"poses"`
	Tradeoff []Count             `json:"tradeoff"`
	Hinges   []asset.HingeReport `json:"hinges"`
	Folds    []Fold              `json:"folds"`
	Beyond   []asset.Excursion   `json:"excursions,omitempty"`
	Warnings []string            `json:"warnings,omitempty"`
	Remarks  []string            `json:"remarks,omitempty"` // on what was measured and on hinges
	Verdict  string              `json:"verdict"`           // in plain words
	Advice   []string            `json:"advice"`            // what to do next

	// The character with the poses as its last clip, one joint a bone and
	// split, for pictures.
	Before, After *asset.Evaluator `json:"-"`
}

// InMetres tells whether the character is of a size that centimetres are good
// for, from a kitten's to a dinosaur's; files do not always keep to metres.
func (f *Findings) InMetres() bool { return f.Size >= 0.2 && f.Size <= 10 }

// Limb is a limb that was looked at.
type Limb struct {
	Name     string `json:"name"`
	Joint    string `json:"joint"`
	Segments int    `json:"segments"`
	Worst    int    `json:"worst_pose"` // the pose in which one joint loses most; -1 where there is none
	Field    string `json:"field"`      // of swings: shortest, centred, least_roll or balanced
	Range    Range  `json:"range"`      // of motion, as assumed

	End    string  `json:"-"`        // a joint, or a point that no picture looks at
	Length float64 `json:"length_m"` // of the bone

	// From and To are the places along the bone, 0 to 1, between which sections
	// go round it; both 0 where none does.
	From float64 `json:"sections_from"`
	To   float64 `json:"sections_to"`

	// ClipsTwist is the greatest twist of the clips that the character came with.
	ClipsTwist float64 `json:"clips_twist_deg"`
	ClipsKeyIt bool    `json:"-"` // whether any of them turns what the twist depends on
	// Enough is the least number of segments, of those weighed, that holds at the
	// twist that they are weighed by, and EnoughForClips at that of the clips; 0
	// where none does, or clips do not twist it.
	Enough         int `json:"segments_enough"`
	EnoughForClips int `json:"segments_enough_for_clips"`

	// Around tells, by node, the joint, all below it and the one that it hangs on.
	Around []bool `json:"-"`

	crowded map[int]bool // by number of segments: over a tenth of a vertex's weight moved
}

// Range is a joint's range of motion.
type Range struct {
	Name      string     `json:"name"` // "hip", "shoulder", "wrist", "limits" or "none"
	Flexion   [2]float64 `json:"flexion_deg,omitzero"`
	Abduction [2]float64 `json:"abduction_deg,omitzero"`
}

// Pose is one limb in one pose.
type Pose struct {
	Limb   string  `json:"limb"`
	Name   string  `json:"pose"`
	Kind   Kind    `json:"kind"`
	Clip   string  `json:"clip"` // that shows it, of Before and After
	Number int     `json:"-"`    // the clip's, from 1: names may be equal
	Time   float64 `json:"time_s"`
	Before Loss    `json:"one_joint"`
	After  Loss    `json:"split"`
	// Verdict is what a rigger reads.
	Verdict string `json:"verdict"`

	where string // the same as Name, within a sentence
}

// Loss is what is left of a limb in a pose: parts of what it was at rest. What
// could not be measured is NaN.
type Loss struct {
	Radius float64 `json:"least_radius"` // of the narrowest section, its mean radius
	At     float64 `json:"at"`           // its place along the bone, 0 to 1
	Volume float64 `json:"volume"`
	// Steepest is the twist of the skin along the bone where it is greatest,
	// in degrees for a tenth of the bone; NaN for a bend, where it says nothing.
	Steepest float64 `json:"steepest_twist_deg"`
	// Sections are the limb's sections, root to end.
	Sections []skin.Section `json:"-"`
}

// Count is what a number of segments leaves of a limb at a twist.
type Count struct {
	Limb     string  `json:"limb"`
	Twist    float64 `json:"twist_deg"`
	Segments int     `json:"segments"` // 1: the bone as it is
	Radius   float64 `json:"least_radius"`
	Volume   float64 `json:"volume"`
	// The same with dual-quaternion skinning.
	DualRadius float64 `json:"least_radius_dual_quaternion"`
	DualVolume float64 `json:"volume_dual_quaternion"`
	// Formula is the mesh-free least radius of a round limb whose weights are
	// linear from segment to segment, cos(span/2).
	Formula float64 `json:"least_radius_formula"`
}

// isNumber is false for what could not be measured.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
