package splitter

import (
	"encoding/json"

	"github.com/pronate/pronate/chain/asset"
)

// Detect finds the limbs of a character and tells of them in the words of a limb
// file, with what is in use filled in. Split takes what it says as it stands.
func Detect(name string, data []byte) (string, error) {
	f, err := asset.Decode(name, data, nil)
	if err != nil {
		return "", oneLine(err)
	}
	limbs, err := asset.Resolve(f, nil)
	if err != nil {
		return "", oneLine(err)
	}
	out := limbsText{Warnings: []string{}}
	for _, l := range limbs {
		out.Limbs = append(out.Limbs, textOf(l))
		out.Warnings = append(out.Warnings, l.Warnings...)
	}
	return encoded(out)
}

func textOf(l asset.LimbInfo) limbText {
	s := l.Spec
	out := limbText{
		Name: s.Name, Joint: s.Joint, Tip: s.Tip, Segments: raw(asset.SegmentsAuto), Twist: s.Twist, Anchor: s.Anchor,
		End: raw(s.End.Joint), Shares: raw(s.Shares.Ramp), Centre: raw(s.Centre.Mode), Range: rangeText(l.RangeSpec),
		Field: l.FieldName, Side: map[int]string{1: "left", -1: "right"}[l.Side],
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
