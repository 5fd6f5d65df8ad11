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
	End      any    `json:"end"` // a joint or a point
	Segments int    `json:"segments"`
	Twist    string `json:"twist"`
	Tip      string `json:"tip,omitempty"`
	Shares   any    `json:"shares"` // a word or a list
	Anchor   string `json:"anchor,omitempty"`
	Centre   any    `json:"centre"` // a word or a direction
}

func limbsAsJSON(limbs asset.Limbs) limbsJSON {
	out := limbsJSON{Version: limbs.Version}
	for _, l := range limbs.Limbs {
		limb := limbJSON{
			Name: l.Name, Joint: l.Joint, End: l.End.Joint, Segments: l.Segments,
			Twist: l.Twist, Tip: l.Tip, Shares: l.Shares.Ramp, Anchor: l.Anchor, Centre: l.Centre.Mode,
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
		out.Limbs = append(out.Limbs, limb)
	}
	return out
}
