package splitter

import (
	"encoding/json"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// Detect finds the limbs of a character and decides how `pronate split` splits them, on
// its skin and clips. It returns the limbs with the keys of a limb file and their settings
// filled in; those that stay unsplit are among them, with the reason, and have "auto"
// for a number of segments. Split takes what it returns as it stands.
//
// The .glb is the character at rest and without clips, which is what the page shows.
func Detect(name string, data []byte) (glb []byte, text string, err error) {
	glb, limbs, err := detect(name, data)
	if err != nil {
		return nil, "", oneLine(err)
	}
	text, err = encoded(limbs)
	return glb, text, err
}

func detect(name string, data []byte) (glb []byte, out limbsText, err error) {
	f, err := asset.Decode(name, data, nil)
	if err != nil {
		return nil, out, err
	}
	_, choices, err := asset.Choose(f, nil, asset.Options{})
	if err != nil {
		return nil, out, err
	}
	all, err := decisions(f, choices)
	if err != nil {
		return nil, out, err
	}
	specs := []asset.LimbSpec{}
	for _, d := range all {
		specs = append(specs, d.spec)
	}
	infos, err := asset.Resolve(f, specs)
	if err != nil {
		return nil, out, err
	}
	out.Limbs, out.Warnings = []limbText{}, []string{}
	for i, l := range infos {
		text := textOf(l)
		text.IsSplit, text.Reason = all[i].isSplit, all[i].reason
		out.Limbs = append(out.Limbs, text)
		out.Warnings = append(out.Warnings, l.Warnings...)
	}
	still, err := atRest(f)
	if err != nil {
		return nil, out, err
	}
	glb, err = still.Encode(true, false)
	return glb, out, err
}

// decision is what was decided about a limb.
type decision struct {
	spec    asset.LimbSpec
	isSplit bool
	reason  string
}

// decisions are those about all limbs that were found, first about those that detection
// proposes, in its order, which is that of choices.
func decisions(f *asset.File, choices []asset.Choice) (out []decision, err error) {
	detected, err := asset.Detect(f)
	if err != nil {
		return nil, err
	}
	for i, spec := range detected.Limbs {
		choice := choices[i]
		if choice.Split {
			spec = choice.Resolved
		}
		out = append(out, decision{spec, choice.Split, strings.TrimPrefix(choice.Reason, "it stays as it is: ")})
	}
	for _, skipped := range detected.Skipped {
		out = append(out, decision{spec: skipped.Spec, reason: skipped.Reason})
	}
	return out, nil
}

func textOf(l asset.LimbInfo) limbText {
	s := l.Spec
	out := limbText{
		Name: s.Name, Joint: s.Joint, Tip: s.Tip, Segments: raw(asset.SegmentsAuto), Twist: s.Twist, Anchor: s.Anchor,
		End: raw(s.End.Joint), Shares: raw(s.Shares.Ramp), Centre: raw(s.Centre.Mode), Range: rangeText(l.RangeSpec),
		Field: l.FieldName, Exclude: (*partsText)(s.Exclude), Rigid: (*partsText)(s.Rigid),
		Side: map[int]string{1: "left", -1: "right"}[l.Side],
	}
	if s.Segments != 0 {
		out.Segments = raw(s.Segments)
	}
	if s.Twist == asset.TwistTip { // of which no field can be asked: the bend does not matter
		out.Field = ""
	}
	return out
}

// raw is a value that has been JSON's already.
func raw(value any) json.RawMessage {
	text, err := json.Marshal(value)
	if err != nil { // texts and finite numbers
		panic(err)
	}
	return text
}

func encoded(value any) (string, error) {
	text, err := json.Marshal(value)
	if err != nil {
		return "", oneLine(err)
	}
	return string(text), nil
}
