package asset

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Report is what a split did, as `pronate split --json` prints it.
type Report struct {
	Limbs []LimbReport `json:"limbs"`
	// Choices say what was decided for each limb, and why; none where limbs were split
	// as asked.
	Choices []Choice `json:"choices,omitempty"`
	// Resolved is the limb file that splits other files of the character in the same
	// way.
	Resolved Limbs        `json:"-"`
	Clips    []ClipReport `json:"clips"`
	// RestErrorMax is the farthest that any skinned vertex moved in the rest
	// pose, which is the bind pose (see [Rest]), measured on the file written, as a fraction of the character's
	// height.
	RestErrorMax float64 `json:"rest_error_max"`
	// Excursions are where clips leave a joint's range of motion, which is for
	// animation and no clinical advice, the farthest first.
	Excursions []Excursion `json:"excursions,omitempty"`
	// OutOfReach are where clips ask a stretch for more than its limits give.
	OutOfReach []OutOfReach `json:"out_of_reach,omitempty"`
	// Warnings are sentences about poses that need an eye.
	Warnings []string `json:"warnings,omitempty"`
}

// LimbReport is one split bone.
type LimbReport struct {
	Name     string   `json:"name"`
	Joint    string   `json:"joint"`
	End      string   `json:"end"`
	Length   float64  `json:"length_m"`
	Field    string   `json:"field"`    // of swings: shortest, centred, least_roll or balanced
	Range    string   `json:"range"`    // of motion, as a limb file has it: a name, or limits where they were given or fitted
	Segments []string `json:"segments"` // the new joints, root to end
	Vertices int      `json:"vertices"` // whose weight on the joint went to the segments, each once a primitive
	// TwistMaxDeg is the greatest twist, in degrees, that any clip has the limb
	// share out: what to ask a plan for.
	TwistMaxDeg float64 `json:"twist_max_deg"`
	// ClipTwistsDeg is the same clip by clip, in the order of the report's Clips, and
	// ClipKeyed whether the clip turns any joint that the twist depends on: where it
	// does not, the 0 says nothing of it.
	ClipTwistsDeg []float64 `json:"-"`
	ClipKeyed     []bool    `json:"-"`
	// Live is set where live constraints were asked for.
	Live *LiveReport `json:"live,omitempty"`
	// WeightMovedMax is the most weight, as a fraction of a vertex' whole, that
	// moved from the segments or joints it belongs on to others, for want of
	// influences.
	WeightMovedMax float64 `json:"weight_moved_max"`
	// Pieces are the connected pieces of the skin that have weight on the joint.
	Pieces []PieceReport `json:"pieces,omitempty"`
	// StretchLeast and StretchMost are the bone's length over all clips, as a
	// ratio to rest and within its limits, where the limb stretches.
	StretchLeast float64 `json:"stretch_least,omitempty"`
	StretchMost  float64 `json:"stretch_most,omitempty"`
	// ReliefMax is the farthest that any clip eases the limb out of its fold.
	ReliefMax float64 `json:"relief_max_m,omitempty"`
}

// PieceReport is a connected piece of the skin and what a limb does with it.
type PieceReport struct {
	Piece    string  `json:"piece"`    // mesh, primitive and lowest vertex, as a limb file names it
	From     float64 `json:"from"`     // where it begins along the bone, 0 at the joint and 1 at its end
	To       float64 `json:"to"`       // where it ends
	Vertices int     `json:"vertices"` // that have weight on the joint, each once a primitive
	// Handling is "split", "rigid" where all the weight goes to one segment,
	// "excluded" where it stays on the joint, and "mixed" where the piece's meshes
	// or materials differ in that.
	Handling string `json:"handling"`
}

// IsKeyed reports whether any clip turns what the limb's twist depends on.
func (l LimbReport) IsKeyed() bool { return slices.Contains(l.ClipKeyed, true) }

// LiveReport is what became of a limb's live constraints.
type LiveReport struct {
	Written bool `json:"written"`
	// Why says why they could not be, to be read after the limb's name.
	Why string `json:"why,omitempty"`
	// Nearest is what could be, or was, in place of a field that is a table.
	Nearest *NearestField `json:"nearest,omitempty"`
}

// ClipReport is one clip.
type ClipReport struct {
	Name string `json:"name"`
	// KeysIn and KeysOut count the key times that drive the limbs and the key
	// times baked for them, summed over limbs, for turns and for shapes.
	KeysIn  int `json:"keys_in"`
	KeysOut int `json:"keys_out"`
	// ErrorMaxDeg is the farthest that a baked segment turns away from the
	// solver, in degrees, measured between keys.
	ErrorMaxDeg float64 `json:"error_max_deg"`
	// ShapeErrorMax is the farthest that skin a bone's length away moves because
	// a baked place or size of a segment is away from the solver's, measured
	// between keys.
	ShapeErrorMax float64 `json:"shape_error_max_m,omitempty"`
	// ClosingMaxDeg is the most that the history of a limb was off by at the end
	// of a loop, in degrees, and that was taken off over the clip.
	ClosingMaxDeg float64 `json:"closing_max_deg,omitempty"`
}

// report measures the result and gathers the figures.
func (s *splitter) report(out *File, clips []bakedClip) (Report, error) {
	r := Report{Limbs: []LimbReport{}, Clips: []ClipReport{}, Excursions: s.excursions, OutOfReach: s.outOfReach, Warnings: s.warnings}
	for i, l := range s.limbs {
		limb := LimbReport{
			Name: l.spec.Name, Joint: l.spec.Joint, End: l.spec.End.String(), Length: l.metres, Field: l.field, Range: l.motion.yaml(),
			Vertices: s.weights.stats[i].vertices, WeightMovedMax: s.weights.stats[i].moved,
			StretchLeast: l.shape.least, StretchMost: l.shape.most, ReliefMax: l.shape.relief,
		}
		limb.Pieces, limb.ClipKeyed = l.pieceReports(s.pieces), l.keyed
		for _, twist := range l.twists {
			limb.ClipTwistsDeg = append(limb.ClipTwistsDeg, twist*180/math.Pi)
			limb.TwistMaxDeg = max(limb.TwistMaxDeg, twist*180/math.Pi)
		}
		if l.live != nil {
			limb.Live = &LiveReport{Written: l.live.written, Why: l.live.why, Nearest: l.live.nearest}
		}
		for _, seg := range l.segments {
			limb.Segments = append(limb.Segments, seg.name)
		}
		r.Limbs = append(r.Limbs, limb)
	}
	for _, c := range clips {
		r.Clips = append(r.Clips, ClipReport{Name: c.name, KeysIn: c.keysIn, KeysOut: c.keysOut, ErrorMaxDeg: c.worst * 180 / math.Pi, ShapeErrorMax: c.worstShape, ClosingMaxDeg: c.closing * 180 / math.Pi})
	}
	slices.SortStableFunc(r.Excursions, func(a, b Excursion) int { return cmp.Compare(b.BeyondDeg, a.BeyondDeg) })
	if s.nodes != nil {
		return r, nil // no skin to measure
	}
	r.Warnings = append(r.Warnings, s.source.unweightedWarnings()...)
	// Only what is new has to be read and checked: the rest is as it was.
	evaluator, err := out.evaluator(func(node int) bool { return node >= len(s.file.Doc.Nodes) })
	if err != nil {
		return r, err
	}
	before := s.source.Vertices(s.source.World(Rest, 0))
	after := evaluator.Vertices(evaluator.World(Rest, 0))
	if len(before) != len(after) {
		return r, fmt.Errorf("%s: the split character has %d skinned vertices, expected the source's %d", s.file.Name, len(after), len(before))
	}
	if height := heightOf(before); height > 0 {
		r.RestErrorMax = farthest(before, after) / height
		if height < leastHeight || height > mostHeight {
			r.Warnings = append(r.Warnings, fmt.Sprintf("the character is %.3g m tall: glTF lengths are metres; read lengths accordingly", height))
		}
	}
	return r, nil
}

// Characters are between leastHeight and mostHeight metres tall, mice to
// giraffes; others were made in another unit.
const leastHeight, mostHeight = 0.2, 10.

// heightOf is the largest extent of a set of points, along +Y for any
// character that stands.
func heightOf(points []r3.Vec) float64 {
	if len(points) == 0 {
		return 0
	}
	size := boxOf(points).Size()
	if size.Y > 0 {
		return size.Y
	}
	return max(size.X, size.Z)
}

// boxOf is the box along the axes around one point or more.
func boxOf(points []r3.Vec) r3.Box {
	box := r3.Box{Min: points[0], Max: points[0]}
	for _, p := range points {
		box.Min = r3.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y), Z: min(box.Min.Z, p.Z)}
		box.Max = r3.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y), Z: max(box.Max.Z, p.Z)}
	}
	return box
}

func farthest(a, b []r3.Vec) (worst float64) {
	for i := range a {
		worst = max(worst, r3.Norm(r3.Sub(a[i], b[i])))
	}
	return worst
}
