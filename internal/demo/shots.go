package demo

import "github.com/pronate/pronate/internal/report"

// Shots are the views that show what twist does to Wren: each limb turned about
// its own length alone, the wring of a forearm on a hold and the step up.
func Shots() []report.Shot {
	const most = 1.0 // seconds into the limbering, when all turn farthest outward
	return []report.Shot{
		{Caption: "thigh turned out", Clip: LimberUp, Time: most, Joint: "thigh_l", Azimuth: 60 * degree, Elevation: 8 * degree, Height: 0.75},
		{Caption: "upper arm turned out", Clip: LimberUp, Time: most, Joint: "upper_arm_l", Azimuth: 30 * degree, Elevation: 10 * degree, Height: 0.62},
		{Caption: "forearm wrung on a hold", Clip: ForearmWring, Time: 1.2, Joint: "hand_l", Azimuth: 70 * degree, Elevation: 25 * degree, Height: 0.46},
		{Caption: "high step", Clip: HighStep, Time: 0.73, Joint: "thigh_l", Azimuth: -15 * degree, Elevation: -5 * degree, Height: 0.75},
	}
}

// Raised is a limb that a clip raises high and sways.
type Raised struct {
	Clip, Limb string
	Nodes      report.LimbNodes
}

// RaisedLimbs are where a field of swings that rolls shows.
func RaisedLimbs() []Raised {
	return []Raised{
		{HighStep, "left thigh", report.LimbNodes{Anchor: "pelvis", Joint: "thigh_l", End: "shin_l", Root: "thigh_segment1_l"}},
		{OverheadReach, "left upper arm", report.LimbNodes{Anchor: "collarbone_l", Joint: "upper_arm_l", End: "forearm_l", Root: "upper_arm_segment1_l"}},
	}
}
