package asset

import (
	"errors"
	"fmt"
	"math"
)

// DefaultHingeTolerance is how far a knee or an elbow may twist or bend sideways
// and still pass for a hinge, 5 degrees: living ones do by a few (common practice,
// no source), and fitting a hinge's axis leaves as much.
const DefaultHingeTolerance = 5 * math.Pi / 180

// AuditOptions are what an audit can be told. The zero value is the default.
type AuditOptions struct {
	// Limbs tell the hinges: joints at the ends of thighs and upper arms, and those
	// of forearms and shins. nil means what Detect proposes.
	Limbs []LimbSpec
	// Axes are hinge axes that are known, by joint: in the joint's own rest frame,
	// of any length; a right-handed turn about one is flexion. Their joints are
	// looked at whether or not a limb tells of them.
	Axes map[string][3]float64
	// Tolerance is in radians; 0 means DefaultHingeTolerance.
	Tolerance float64
}

// ErrNoHinges is that there is nothing to audit.
var ErrNoHinges = errors.New("no limb tells of a knee or an elbow, expected a thigh, shin, upper arm or forearm, or an axis for a joint")

// Where a hinge's axis comes from.
const (
	AxisGiven = "given" // the options
	AxisRest  = "rest"  // the plane of the two bones, bent at rest
	AxisClips = "clips" // least squares over all clips
	AxisBody  = "body"  // at right angles to the bone, across the way a knee or an elbow goes
)

// HingeReport is what an audit found out about one knee or elbow.
type HingeReport struct {
	Joint       string     `json:"joint"`
	Kind        string     `json:"kind"` // "knee", "elbow" or "hinge"
	Axis        [3]float64 `json:"axis"` // unit, in the joint's rest frame
	AxisFrom    string     `json:"axis_from"`
	RestBendDeg float64    `json:"rest_bend_deg"` // between the two bones
	// ResidualDeg is the root mean square angle by which all clips' swings are off the
	// axis of least squares, whether or not that is the axis used; nil where the
	// joint hardly bends or bends all ways.
	ResidualDeg *float64    `json:"residual_deg,omitempty"`
	Clips       []HingeClip `json:"clips"`
	Clean       bool        `json:"clean"` // all clips are
}

// HingeClip is what one clip does to a hinge, to 0.05 degrees, also between keys,
// as long as the side-bend stays under 39 degrees (hingeMotion derives it).
// Angles are those of chain.HingeAngles, but in degrees, and times are in seconds;
// TwistDeg and SideBendDeg are the worst, with their signs, in the joint's own frame.
type HingeClip struct {
	Clip         string  `json:"clip"`
	TwistDeg     float64 `json:"twist_deg"`
	TwistTime    float64 `json:"twist_time_s"`
	SideBendDeg  float64 `json:"side_bend_deg"`
	SideBendTime float64 `json:"side_bend_time_s"`
	// FlexionDeg is the largest, and HyperextensionDeg the farthest the other way past
	// rest; 0 where the clip has none.
	FlexionDeg         float64 `json:"flexion_deg"`
	FlexionTime        float64 `json:"flexion_time_s"`
	HyperextensionDeg  float64 `json:"hyperextension_deg"`
	HyperextensionTime float64 `json:"hyperextension_time_s"`
	// Undefined is set where the bone comes to lie along the hinge's axis, and what
	// is twist and what flexion cannot be told.
	Undefined bool `json:"undefined,omitempty"`
	Clean     bool `json:"clean"` // neither twist nor side-bend is beyond the tolerance
}

// AuditHinges tells how far every clip turns a character's knees and elbows off
// their axes.
//
// The axis of a hinge is the one given, else the normal of its two bones where
// they are bent at rest by chain.HingeMinRestBend or more, else that of least
// squares over all clips (chain.HingeFromTurns), else it is guessed from the body,
// which faces +Z: hanging knees bend back and elbows ahead about the axis across.
// The report says which. Twist never bends the axis of least squares and shows
// against any of them; a sideways lean that grows with the flexion in all clips
// alike shows only against an axis from rest or given.
//
// Rotations are taken from rest, between the joint and the bone above, each in its
// own frame: scaled, mirrored and turned skeletons give what their joints do.
func AuditHinges(f *File, options AuditOptions) ([]HingeReport, error) {
	if options.Tolerance == 0 {
		options.Tolerance = DefaultHingeTolerance
	}
	if !(options.Tolerance > 0 && options.Tolerance <= math.Pi) {
		return nil, fmt.Errorf("asset: tolerance is %g rad, expected more than 0 and at most pi", options.Tolerance)
	}
	evaluator, err := f.Evaluator()
	if err != nil {
		return nil, err
	}
	find := hingeFinder{file: f, poses: evaluator.poses, world: evaluator.World(Rest, 0), clips: evaluator.clips, at: map[int]int{}}
	if err := find.all(options); err != nil {
		return nil, err
	}
	reports := []HingeReport{}
	for i := range find.hinges {
		h := &find.hinges[i]
		if err := h.setUp(&find); err != nil {
			return nil, fmt.Errorf("%s: joint %q: %w", f.Name, f.ref(h.joint), err)
		}
		reports = append(reports, h.report(&find, options.Tolerance))
	}
	return reports, nil
}

// report measures every clip.
func (h *auditHinge) report(find *hingeFinder, tolerance float64) HingeReport {
	const degrees = 180 / math.Pi
	axis := h.hinge.Axis()
	r := HingeReport{
		Joint: find.file.ref(h.joint), Kind: h.kind, Axis: [3]float64{axis.X, axis.Y, axis.Z}, AxisFrom: h.from,
		RestBendDeg: h.restBend * degrees, Clips: []HingeClip{}, Clean: true,
	}
	if h.fitted {
		residual := h.fit.Residual * degrees
		r.ResidualDeg = &residual
	}
	for i := range find.clips {
		m := hingeMotion{hinge: h, clip: &find.clips[i]}
		worst := m.worst()
		c := HingeClip{
			Clip:     find.clips[i].name,
			TwistDeg: worst[byTwist].angles.Twist * degrees, TwistTime: worst[byTwist].time,
			SideBendDeg: worst[bySideBend].angles.SideBend * degrees, SideBendTime: worst[bySideBend].time,
			Undefined: m.undefined,
		}
		if s := worst[byFlexion]; s.angles.Flexion > 0 {
			c.FlexionDeg, c.FlexionTime = s.angles.Flexion*degrees, s.time
		}
		if s := worst[byExtension]; s.angles.Flexion < 0 {
			c.HyperextensionDeg, c.HyperextensionTime = -s.angles.Flexion*degrees, s.time
		}
		c.Clean = !m.undefined && max(math.Abs(c.TwistDeg), math.Abs(c.SideBendDeg)) <= tolerance*degrees
		r.Clean = r.Clean && c.Clean
		r.Clips = append(r.Clips, c)
	}
	return r
}
