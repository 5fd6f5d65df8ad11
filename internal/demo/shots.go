package demo

import (
	"math"

	"github.com/pronate/pronate/internal/report"
	"gonum.org/v1/gonum/spatial/r3"
)

// TwistedLimbs are views of a thigh and an upper arm, turned about their own length
// alone.
func TwistedLimbs() []report.TwistShot {
	const most = 1.0 // seconds into the limbering, when all turn farthest outward
	return []report.TwistShot{
		{
			Shot: report.Shot{Caption: "Thigh turned out by 60 degrees", Clip: LimberUp, Time: most, Joint: "thigh_l", Toward: "shin_l", Azimuth: 35 * degree, Elevation: 6 * degree, Height: 0.60},
			Bone: [2]string{"thigh_l", "shin_l"}, Pointer: r3.Vec{X: 0.02, Z: 0.08},
			Within: onLimb(hip, knee, 0.10, 0.06, 0.13),
		},
		{
			Shot: report.Shot{Caption: "Upper arm turned out by 80 degrees", Clip: LimberUp, Time: most, Joint: "upper_arm_l", Toward: "forearm_l", Azimuth: 20 * degree, Elevation: 8 * degree, Height: 0.47},
			Bone: [2]string{"upper_arm_l", "forearm_l"}, Pointer: r3.Vec{Z: 0.06},
			Within: onLimb(shoulder, elbow, 0.07, 0.05, 0.09),
		},
	}
}

// onLimb tells by a point at rest whether it is on a limb of the left side: along the
// bone, some metres beyond both of its ends, and within a distance of its axis.
func onLimb(from, to r3.Vec, beyondRoot, beyondEnd, reach float64) func(r3.Vec) float64 {
	const fade = 0.02 // metres
	length := r3.Norm(r3.Sub(to, from))
	axis := r3.Unit(r3.Sub(to, from))
	return func(p r3.Vec) float64 {
		d := r3.Sub(p, from)
		along := r3.Dot(d, axis)
		off := math.Sqrt(max(r3.Norm2(d)-along*along, 0))
		return smoothStep(-beyondRoot, fade-beyondRoot, along) * (1 - smoothStep(length+beyondEnd-fade, length+beyondEnd, along)) *
			(1 - smoothStep(reach-fade, reach, off)) * smoothStep(0, 0.004, p.X)
	}
}

// Raised is a limb that a clip raises high and sways.
type Raised struct {
	Clip, Limb string
	Nodes      report.LimbNodes
}

// RaisedThigh and RaisedArm are where the field of swings shows.
var (
	RaisedThigh = Raised{HighStep, "left thigh", report.LimbNodes{Anchor: "pelvis", Joint: "thigh_l", End: "shin_l", Root: "thigh_segment1_l"}}
	RaisedArm   = Raised{OverheadReach, "left upper arm", report.LimbNodes{Anchor: "collarbone_l", Joint: "upper_arm_l", End: "forearm_l", Root: "upper_arm_segment1_l"}}
)
