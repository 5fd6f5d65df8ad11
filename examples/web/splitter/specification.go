package splitter

import (
	"fmt"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// specification is what the JavaScript solver makes a limb from; see Specification
// in cmd/libpronate/js/pronate.d.ts. Its numbers are the ones that the split's own
// solver was made from, and so the answers are the same to the bit.
type specification struct {
	Axis      [3]float64 `json:"axis"`
	Segments  int        `json:"segments"`
	Twist     string     `json:"twist"`
	Ramp      string     `json:"ramp"`
	Shares    []float64  `json:"shares,omitempty"`
	TipShares []float64  `json:"tip_shares,omitempty"`

	Field   string      `json:"field,omitempty"`
	Centre  any         `json:"centre"` // a word or a direction
	Range   any         `json:"range"`  // a word or limits
	Down    *[3]float64 `json:"down,omitempty"`
	Forward *[3]float64 `json:"forward,omitempty"`
	Out     *[3]float64 `json:"out,omitempty"`

	AnchorRest *[4]float64 `json:"anchor_rest,omitempty"` // x, y, z, w
	JointRest  *[4]float64 `json:"joint_rest,omitempty"`
	TipRest    *[4]float64 `json:"tip_rest,omitempty"`
}

// fieldName is a field's name, or none for the one that the rest asks for.
func fieldName(f chain.Field) string {
	if f == chain.AnyField {
		return ""
	}
	return f.String()
}

func specificationOf(l asset.LimbInfo) (specification, error) {
	from := l.Solver
	s := specification{
		Axis: components(from.Axis), Segments: from.Segments, Shares: from.Shares, TipShares: from.TipShares,
		Twist: map[chain.Twist]string{chain.Own: "own", chain.Tip: "tip"}[from.Twist],
		Ramp:  map[chain.Ramp]string{chain.Linear: "linear", chain.Smooth: "smooth"}[from.Ramp],
		Field: fieldName(from.Field),
		Range: asset.RangeNone, AnchorRest: rotation(from.AnchorRest), JointRest: rotation(from.JointRest), TipRest: rotation(from.TipRest),
	}
	switch from.Centre.Mode {
	case chain.Auto:
		s.Centre = "auto"
	case chain.None:
		s.Centre = "none"
	case chain.Given:
		s.Centre = components(from.Centre.Direction)
	default:
		return s, fmt.Errorf("centre is of kind %d, expected one that can be told", from.Centre.Mode)
	}
	if r := from.Range; !r.IsZero() {
		// By name, or in the degrees that were given: radians do not go back to them.
		s.Range = l.RangeSpec.Name
		if l.RangeSpec.Name == "" {
			s.Range = limitsText{Flexion: &l.RangeSpec.FlexionDeg, Abduction: &l.RangeSpec.AbductionDeg}
		}
		down, forward, out := components(r.Down), components(r.Forward), components(r.Out)
		s.Down, s.Forward, s.Out = &down, &forward, &out
	}
	return s, nil
}

// rotation is nil for a frame that was left at the identity.
func rotation(f rest.Frame) *[4]float64 {
	q := f.Rotation
	if numbers := [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real}; numbers != [4]float64{} {
		return &numbers
	}
	return nil
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
