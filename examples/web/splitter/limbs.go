// Package splitter is what the page does to a character besides showing it: it finds
// limbs, splits them, and says how to make each limb's solver again, for the page's
// own to have the same answers to the bit. Texts are JSON; package wasm puts it into
// a browser's worker.
//
// Errors are one line each. What people load can be anything, and nothing here
// panics on it.
package splitter

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
)

// limbsText is what the page sends: limbs with the keys of a limb file, as Detect
// says them, or a few of these.
type limbsText struct {
	Version  int        `json:"version,omitempty"`
	Limbs    []limbText `json:"limbs"`
	Warnings []string   `json:"warnings"` // of Detect; not read
}

// limbText is one of them. Where the interface takes a word or numbers, the JSON is
// kept for later.
type limbText struct {
	Name     string          `json:"name"`
	Joint    string          `json:"joint"`
	End      json.RawMessage `json:"end"` // a joint or a point
	Tip      string          `json:"tip,omitempty"`
	Segments json.RawMessage `json:"segments"` // auto or a number
	Twist    string          `json:"twist"`
	Shares   json.RawMessage `json:"shares"` // a word or a list
	Anchor   string          `json:"anchor,omitempty"`
	Centre   json.RawMessage `json:"centre,omitempty"` // a word or a direction
	Range    json.RawMessage `json:"range,omitempty"`  // a word or limits
	Field    string          `json:"field"`
	Exclude  *partsText      `json:"exclude,omitempty"`
	Rigid    *partsText      `json:"rigid,omitempty"`

	// Of Detect; not read.
	Side    string `json:"side"`
	IsSplit bool   `json:"is_split"` // by pronate split, where nothing else is asked for
	Reason  string `json:"reason"`   // why it is, or is not
}

// partsText are parts of the skin, as asset.SkinParts.
type partsText struct {
	Meshes    []string `json:"meshes,omitempty"`
	Materials []string `json:"materials,omitempty"`
	Pieces    []string `json:"pieces,omitempty"`
}

type limitsText struct {
	Flexion   *[2]float64 `json:"flexion_deg"`
	Abduction *[2]float64 `json:"abduction_deg"`

	Down    *[3]float64 `json:"down,omitempty"`
	Forward *[3]float64 `json:"forward,omitempty"`
	Out     *[3]float64 `json:"out,omitempty"`
}

// mostLimbs is more than any character has.
const mostLimbs = 1000

// limbsOf reads the page's limbs. What a limb may say is checked where it is split.
func limbsOf(text string) ([]asset.LimbSpec, error) {
	var in limbsText
	if err := strict([]byte(text), &in); err != nil {
		return nil, fmt.Errorf("limbs: %w", err)
	}
	switch n := len(in.Limbs); {
	case in.Version != 0 && in.Version != asset.LimbsVersion:
		return nil, fmt.Errorf("limbs: version is %d, expected %d", in.Version, asset.LimbsVersion)
	case n == 0 || n > mostLimbs:
		return nil, fmt.Errorf("limbs: has %d limbs, expected 1 to %d", n, mostLimbs)
	}
	out := make([]asset.LimbSpec, len(in.Limbs))
	for i, l := range in.Limbs {
		var err error
		if out[i], err = l.spec(); err != nil {
			return nil, fmt.Errorf("limbs: limb %d, %q: %w", i+1, l.Name, err)
		}
	}
	return out, nil
}

func (l limbText) spec() (s asset.LimbSpec, err error) {
	s = asset.LimbSpec{
		Name: l.Name, Joint: l.Joint, Tip: l.Tip, Twist: l.Twist, Anchor: l.Anchor, Field: l.Field,
		Exclude: (*asset.SkinParts)(l.Exclude), Rigid: (*asset.SkinParts)(l.Rigid),
	}
	if s.Segments, err = l.segments(); err != nil {
		return s, err
	}
	if s.End.Joint, err = word("end", l.End, "a joint's name or a point [x, y, z]", func() error { return three(l.End, &s.End.Point) }); err != nil {
		return s, err
	}
	if s.Shares.Ramp, err = word("shares", l.Shares, "linear, smooth or a list of numbers", func() error { return list(l.Shares, &s.Shares.List) }); err != nil {
		return s, err
	}
	if s.Centre.Mode, err = word("centre", l.Centre, "auto, none or a direction [x, y, z]", func() error { return three(l.Centre, &s.Centre.Direction) }); err != nil {
		return s, err
	}
	const limits = `hip, shoulder, wrist, clips, none or limits {"flexion_deg": [least, greatest], "abduction_deg": [least, greatest]}`
	s.Range.Name, err = word("range", l.Range, limits, func() error {
		var in limitsText
		if err := strict(l.Range, &in); err != nil {
			return err
		}
		if in.Flexion == nil || in.Abduction == nil || *in.Flexion == [2]float64{} && *in.Abduction == [2]float64{} {
			return errUnlike // all zeros would be taken for a range left to the joint
		}
		s.Range.FlexionDeg, s.Range.AbductionDeg = *in.Flexion, *in.Abduction
		switch {
		case in.Down != nil && in.Forward != nil && in.Out != nil:
			s.Range.Frame = asset.RangeFrame{Down: *in.Down, Forward: *in.Forward, Out: *in.Out}
		case in.Down != nil || in.Forward != nil || in.Out != nil:
			return errUnlike
		}
		return nil
	})
	return s, err
}

// segments is the number, or 0 for auto.
func (l limbText) segments() (n int, err error) {
	const expected = "auto or a whole number"
	name, err := word("segments", l.Segments, expected, func() error {
		if err := json.Unmarshal(l.Segments, &n); err != nil || n == 0 {
			return errUnlike
		}
		return nil
	})
	if err == nil && name != "" && name != asset.SegmentsAuto {
		err = fmt.Errorf("segments is %s, expected %s", shorten(string(l.Segments)), expected)
	}
	return n, err
}

// rangeText is a range as the page has it.
func rangeText(r asset.Range) json.RawMessage {
	if r.Name != "" {
		return raw(r.Name)
	}
	out := limitsText{Flexion: &r.FlexionDeg, Abduction: &r.AbductionDeg}
	if r.Frame != (asset.RangeFrame{}) {
		out.Down, out.Forward, out.Out = &r.Frame.Down, &r.Frame.Forward, &r.Frame.Out
	}
	return raw(out)
}

// errUnlike is for JSON that is in order and not what is asked for.
var errUnlike = errors.New("is something else")

// word reads a text, or has other read what is no text. Nothing at all is "".
func word(key string, raw json.RawMessage, expected string, other func() error) (text string, err error) {
	switch {
	case len(raw) == 0 || string(raw) == "null":
		return "", nil
	case raw[0] == '"':
		return text, json.Unmarshal(raw, &text)
	}
	if other() != nil {
		return "", fmt.Errorf("%s is %s, expected %s", key, shorten(string(raw)), expected)
	}
	return "", nil
}

// three reads a list of three numbers.
func three(raw json.RawMessage, to **[3]float64) error {
	var numbers []float64
	if err := list(raw, &numbers); err != nil {
		return err
	}
	if len(numbers) != 3 {
		return errUnlike
	}
	*to = (*[3]float64)(numbers)
	return nil
}

// list reads numbers, in which null is none.
func list(raw json.RawMessage, to *[]float64) error {
	var items []*float64
	if err := json.Unmarshal(raw, &items); err != nil {
		return err
	}
	numbers := make([]float64, len(items))
	for i, x := range items {
		if x == nil {
			return errUnlike
		}
		numbers[i] = *x
	}
	*to = numbers
	return nil
}

// strict reads one value of JSON and refuses keys that it does not know.
func strict(text []byte, to any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(to)
	unlike := (*json.UnmarshalTypeError)(nil)
	switch {
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the JSON ends too early, expected an object")
	case errors.As(err, &unlike) && unlike.Field != "":
		return fmt.Errorf("%s is JSON's %s, expected another type", unlike.Field, unlike.Value)
	case errors.As(err, &unlike):
		return fmt.Errorf("is JSON's %s, expected an object", unlike.Value)
	case err != nil:
		return fmt.Errorf("near byte %d: %s", d.InputOffset(), strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := d.Token(); err != io.EOF {
		return fmt.Errorf("goes on after its end at byte %d, expected nothing there", d.InputOffset())
	}
	return nil
}

// oneLine makes an error fit for the page: help that goes on over more lines is for
// a terminal.
func oneLine(err error) error {
	first, _, _ := strings.Cut(err.Error(), "\n")
	return errors.New(printable.Text(first))
}

// shorten keeps what was given from filling the message.
func shorten(text string) string {
	const most = 60
	text = strings.Join(strings.Fields(text), " ")
	if len(text) > most {
		text = strings.ToValidUTF8(text[:most], "") + "…"
	}
	return text
}
