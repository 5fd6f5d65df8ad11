package main

import "github.com/pronate/pronate/chain/asset"

// limbsJSON is a limb file as JSON, with the keys that it has as YAML: what the
// one reads, the other does.
type limbsJSON struct {
	Version int        `json:"version"`
	Limbs   []limbJSON `json:"limbs"`
}

type limbJSON struct {
	Name     string `json:"name"`
	Joint    string `json:"joint"`
	End      any    `json:"end"`      // a joint or a point
	Segments any    `json:"segments"` // auto or a number
	Twist    string `json:"twist"`
	Tip      string `json:"tip,omitempty"`
	Shares   any    `json:"shares"` // a word or a list
	Anchor   string `json:"anchor,omitempty"`
	Centre   any    `json:"centre"`          // a word or a direction
	Range    any    `json:"range,omitempty"` // a name or limits
	Field    string `json:"field,omitempty"`

	Stretch *stretchJSON `json:"stretch,omitempty"`
	Crease  *creaseJSON  `json:"crease,omitempty"`
}

type stretchJSON struct {
	By       string      `json:"by"`
	Limits   *[2]float64 `json:"limits,omitempty"`
	Shares   []float64   `json:"shares,omitempty"`
	Exponent *float64    `json:"exponent,omitempty"`
}

type creaseJSON struct {
	At    string  `json:"at"`
	Most  float64 `json:"most_m"`
	Onset float64 `json:"onset_deg"`
	Full  float64 `json:"full_deg"`
}

type rangeJSON struct {
	Flexion   [2]float64 `json:"flexion_deg"`
	Abduction [2]float64 `json:"abduction_deg"`

	Down    *[3]float64 `json:"down,omitempty"`
	Forward *[3]float64 `json:"forward,omitempty"`
	Out     *[3]float64 `json:"out,omitempty"`
}

func limbsAsJSON(limbs asset.Limbs) limbsJSON {
	out := limbsJSON{Version: limbs.Version}
	for _, l := range limbs.Limbs {
		limb := limbJSON{
			Name: l.Name, Joint: l.Joint, End: l.End.Joint, Segments: asset.SegmentsAuto,
			Twist: l.Twist, Tip: l.Tip, Shares: l.Shares.Ramp, Anchor: l.Anchor, Centre: l.Centre.Mode, Field: l.Field,
		}
		if l.Segments != 0 {
			limb.Segments = l.Segments
		}
		if l.End.Point != nil {
			limb.End = l.End.Point
		}
		if l.Shares.List != nil {
			limb.Shares = l.Shares.List
		}
		if l.Centre.Direction != nil {
			limb.Centre = l.Centre.Direction
		}
		switch {
		case l.Range.Name != "":
			limb.Range = l.Range.Name
		case l.Range != asset.Range{}:
			r := rangeJSON{Flexion: l.Range.FlexionDeg, Abduction: l.Range.AbductionDeg}
			if f := l.Range.Frame; f != (asset.RangeFrame{}) {
				r.Down, r.Forward, r.Out = &f.Down, &f.Forward, &f.Out
			}
			limb.Range = r
		}
		if s := l.Stretch; s != nil {
			limb.Stretch = &stretchJSON{By: s.By, Shares: s.Shares, Exponent: s.Exponent}
			if s.Limits != [2]float64{} {
				limb.Stretch.Limits = &s.Limits
			}
		}
		if c := l.Crease; c != nil {
			limb.Crease = &creaseJSON{At: c.At, Most: c.Most, Onset: c.OnsetDeg, Full: c.FullDeg}
		}
		out.Limbs = append(out.Limbs, limb)
	}
	return out
}
