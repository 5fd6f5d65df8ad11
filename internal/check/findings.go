package check

import (
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
)

// Kind says where a pose comes from.
type Kind string

const (
	Clip   Kind = "clip"  // a moment of one of the character's own clips
	Twist  Kind = "twist" // a twist of the limb and nothing else
	Corner Kind = "range" // a direction of the joint's range of motion, reached without twist
)

// Findings are what a check found.
type Findings struct {
	Size     float64    `json:"size_m"`    // the longest side of the box round the skin at rest
	Limbs    []Limb     `json:"limbs"`     // that are split
	NotSplit []NotSplit `json:"not_split"` // that stay as they are

	// Clips counts the character's own clips, and Synthetic the poses that the check
	// makes; the verdicts say the same in words.
	Clips            Tally  `json:"clips"`
	Synthetic        Tally  `json:"synthetic"`
	ClipsVerdict     string `json:"clips_verdict"`
	SyntheticVerdict string `json:"synthetic_verdict"`

	Poses    []Pose              `json:"poses"` // moments of clips first
	Tradeoff []Count             `json:"tradeoff"`
	Hinges   []asset.HingeReport `json:"hinges"`
	Folds    []Fold              `json:"folds"`
	Beyond   []asset.Excursion   `json:"excursions,omitempty"`
	Warnings []string            `json:"warnings,omitempty"`
	Remarks  []string            `json:"remarks,omitempty"` // on what was measured and on hinges
	Advice   []Advice            `json:"advice"`            // what to do next

	weightMoved float64 // the most of a vertex, as a part of its weight

	// The character with the poses as its last clip, source and split, for pictures.
	Before, After *asset.Evaluator `json:"-"`
}

// NotSplit is a limb that stays as it is, and why.
type NotSplit struct {
	Limb   string `json:"limb"`
	Joint  string `json:"joint"`
	Reason string `json:"reason"`
}

// InMetres tells whether the character is of a size that centimetres are good
// for, from a kitten's to a dinosaur's; files do not always keep to metres.
func (f *Findings) InMetres() bool { return f.Size >= 0.2 && f.Size <= 10 }

// Limb is a limb that is split.
type Limb struct {
	Name     string `json:"name"`
	Joint    string `json:"joint"`
	Segments int    `json:"segments"`
	Worst    int    `json:"worst_pose"` // the pose in which the source is strained most; -1 where there is none
	Field    string `json:"field"`      // of swings: shortest, centred, least_roll or balanced
	Range    Range  `json:"range"`      // of motion, as assumed

	End    string  `json:"-"`        // a joint, or a point that no picture looks at
	Length float64 `json:"length_m"` // of the bone

	// From and To are the places along the bone, 0 to 1, between which sections
	// go round it; both 0 where none does.
	From float64 `json:"sections_from"`
	To   float64 `json:"sections_to"`

	// ClipsTwist is the greatest twist of the clips that the character came with.
	ClipsTwist float64 `json:"clips_twist_deg"` // null in JSON where no clip keys it
	ClipsKeyIt bool    `json:"-"`               // whether any of them turns what the twist depends on
	// Enough is the least number of segments, of those weighed, that holds at the
	// twist that they are weighed by, and EnoughForClips at that of the clips; 0
	// where none does, or clips do not twist it.
	Enough         int `json:"segments_enough"`
	EnoughForClips int `json:"segments_enough_for_clips"`

	// Around tells, by node, the joint, all below it and the one that it hangs on.
	Around []bool `json:"-"`

	// What is left, split, at the twist that numbers of segments are compared at; NaN
	// where it was not measured.
	RadiusAtTwist float64 `json:"radius_at_90_deg"`
	VolumeAtTwist float64 `json:"volume_at_90_deg"`

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
	Limb   string  `json:"limb"` // in a clip: the one that the split changes most
	Name   string  `json:"pose"`
	Kind   Kind    `json:"kind"`
	Moment string  `json:"moment,omitempty"` // what is remarkable about a moment of a clip
	Clip   string  `json:"clip"`             // that shows it, of Before and After
	Number int     `json:"-"`                // the clip's, from 1: names may be equal
	Time   float64 `json:"time_s"`
	Before Loss    `json:"source"`
	After  Loss    `json:"split"`
	// Outcome is decided by strain, Verdict is what a rigger reads.
	Outcome Outcome `json:"outcome"`
	Verdict string  `json:"verdict"`

	where string // the same as Name, within a sentence
	limb  int    // by its place among the limbs
}

// Loss is what a pose does to the skin. What could not be measured is NaN.
type Loss struct {
	// Strain is that of all skin, the mean over its area of (smaller stretch - 1)^2 +
	// (larger stretch - 1)^2.
	Strain float64 `json:"strain"`
	Radius float64 `json:"minimum_radius"` // of the limb's sections, as a part of that at rest
	At     float64 `json:"at"`             // its place along the bone, 0 to 1
	Volume float64 `json:"volume"`         // of the limb, as a part of that at rest
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
	Radius   float64 `json:"minimum_radius"`
	Volume   float64 `json:"volume"`
	// The same with dual-quaternion skinning.
	DualRadius float64 `json:"minimum_radius_dual_quaternion"`
	DualVolume float64 `json:"volume_dual_quaternion"`
	// Formula is the mesh-free minimum radius of a round limb whose weights are
	// linear from segment to segment, cos(span/2).
	Formula float64 `json:"minimum_radius_formula"`
}

// unknown stands for what could not be measured.
var unknown = math.NaN()

// isNumber is false for what could not be measured.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
