package check

import (
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
)

// Kind says where a pose comes from.
type Kind string

const (
	Range Kind = "range" // a corner of the joint's range of motion
	Twist Kind = "twist" // a twist of the limb and nothing else
	Clip  Kind = "clip"  // the worst moment of a clip
)

// Findings are what a check found.
type Findings struct {
	Limbs    []Limb              `json:"limbs"`
	Poses    []Pose              `json:"poses"`
	Tradeoff []Count             `json:"tradeoff"`
	Hinges   []asset.HingeReport `json:"hinges"`
	Folds    []Fold              `json:"folds"`
	Beyond   []asset.Excursion   `json:"excursions,omitempty"`
	Warnings []string            `json:"warnings,omitempty"`
	Verdict  string              `json:"verdict"` // in plain words
	Advice   []string            `json:"advice"`  // what to do next

	// The character with the poses as its last clip, one joint a bone and
	// split, for pictures.
	Before, After *asset.Evaluator `json:"-"`
}

// Limb is a limb that was looked at.
type Limb struct {
	Name     string `json:"name"`
	Joint    string `json:"joint"`
	Segments int    `json:"segments"`
	Worst    int    `json:"worst_pose"` // the pose in which one joint loses most; -1 where there is none

	End    string  `json:"-"`        // a joint, or a point that no picture looks at
	Length float64 `json:"length_m"` // of the bone
}

// Pose is one limb in one pose.
type Pose struct {
	Limb   string  `json:"limb"`
	Name   string  `json:"pose"`
	Kind   Kind    `json:"kind"`
	Clip   string  `json:"clip"` // that shows it, of the posed characters
	Time   float64 `json:"time_s"`
	Before Loss    `json:"one_joint"`
	After  Loss    `json:"split"`
	// Verdict is what a rigger reads.
	Verdict string `json:"verdict"`
}

// Loss is what is left of a limb in a pose: parts of what it was at rest.
type Loss struct {
	Radius float64 `json:"least_radius"` // of the narrowest section, its mean radius
	At     float64 `json:"at"`           // its place along the bone, 0 to 1
	Volume float64 `json:"volume"`
	// Steepest is the twist of the skin along the bone where it is greatest,
	// in degrees for a tenth of the bone.
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
