package engine

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain"
)

// ParseSpec reads the JSON form of a Spec, an object with these keys, all of which
// may be left out:
//
//	axis, down, forward, out          [x, y, z]
//	segments                          2 to 32
//	twist                             "own" or "tip"
//	ramp                              "linear" or "smooth"
//	shares                            a list of the joint's own, or one of ramp's words
//	tip_shares                        a list of the tip's
//	field                             "shortest", "centred", "least_roll" or "balanced"
//	centre                            "auto", "none" or [x, y, z]
//	range                             "none", "hip", "shoulder", "wrist" or
//	                                  {"flexion_deg": [-30, 120], "abduction_deg": [-30, 45]}
//	anchor_rest, joint_rest, tip_rest [x, y, z, w]
//
// Keys that it does not know, or that come twice, are refused. An error names the
// field; that the limb can be made is for New to say.
func ParseSpec(text []byte) (Spec, error) {
	var s Spec
	if err := s.read(text); err != nil {
		return Spec{}, err
	}
	return s, nil
}

var specKeys = []string{
	"axis", "segments", "twist", "ramp", "shares", "tip_shares", "field", "centre", "range",
	"down", "forward", "out", "anchor_rest", "joint_rest", "tip_rest",
}

func (s *Spec) read(text []byte) error {
	values, err := object("the specification", text, specKeys)
	if err != nil {
		return err
	}
	if values["ramp"] != nil && isText(values["shares"]) {
		return BadSpec.errorf("ramp is given and shares a word, expected one of them")
	}
	for _, key := range specKeys { // in one order, so that the same text has the same message
		raw, ok := values[key]
		if !ok {
			continue
		}
		if err := s.set(key, raw); err != nil {
			return err
		}
	}
	return nil
}

func (s *Spec) set(key string, raw json.RawMessage) (err error) {
	three := map[string]*[3]float64{"axis": &s.Axis, "down": &s.Down, "forward": &s.Forward, "out": &s.Out}
	four := map[string]*[4]float64{"anchor_rest": &s.AnchorRest, "joint_rest": &s.JointRest, "tip_rest": &s.TipRest}
	switch key {
	case "axis", "down", "forward", "out":
		err = direction(key, raw, three[key][:], "[x, y, z]")
	case "anchor_rest", "joint_rest", "tip_rest":
		err = direction(key, raw, four[key][:], "[x, y, z, w]")
	case "segments":
		var n int
		if json.Unmarshal(raw, &n) != nil || isNothing(raw) || n < chain.MinSegments || n > chain.MaxSegments {
			return expected(key, raw, fmt.Sprintf("a whole number from %d to %d", chain.MinSegments, chain.MaxSegments))
		}
		s.Segments = n
	case "twist":
		s.Twist, err = word(key, raw, []chain.Twist{chain.Own, chain.Tip}, "own", "tip")
	case "ramp":
		s.Ramp, err = word(key, raw, []chain.Ramp{chain.Linear, chain.Smooth}, "linear", "smooth")
	case "shares":
		if isText(raw) {
			s.Ramp, err = word(key, raw, []chain.Ramp{chain.Linear, chain.Smooth}, "linear", "smooth")
		} else {
			s.Shares, err = list(key, raw)
		}
	case "tip_shares":
		s.TipShares, err = list(key, raw)
	case "field":
		s.Field, err = word(key, raw, []chain.Field{chain.Shortest, chain.Centred, chain.LeastRoll, chain.Balanced}, "shortest", "centred", "least_roll", "balanced")
	case "centre":
		if isText(raw) {
			s.CentreMode, err = word(key, raw, []chain.CentreMode{chain.Auto, chain.None}, "auto", "none")
		} else {
			s.CentreMode = chain.Given
			err = direction(key, raw, s.Centre[:], `"auto", "none" or [x, y, z]`)
		}
	case "range":
		err = s.readRange(raw)
	}
	return err
}

func (s *Spec) readRange(raw json.RawMessage) (err error) {
	if len(raw) == 0 || raw[0] != '{' {
		words := []string{"none", "hip", "shoulder", "wrist"}
		s.Range, err = word("range", raw, []Range{RangeNone, RangeHip, RangeShoulder, RangeWrist}, words...)
		if err != nil {
			return expected("range", raw, `"`+strings.Join(words, `", "`)+`" or limits {"flexion_deg": [least, greatest], "abduction_deg": [least, greatest]}`)
		}
		return nil
	}
	s.Range = RangeLimits
	keys := []string{"flexion_deg", "abduction_deg"}
	values, err := object("range", raw, keys)
	if err != nil {
		return err
	}
	for i, limits := range []*[2]float64{&s.FlexionDeg, &s.AbductionDeg} {
		value, ok := values[keys[i]]
		if !ok {
			return BadSpec.errorf("range has no %s, expected [least, greatest] in degrees", keys[i])
		}
		if err := numbers(keys[i], value, limits[:], "[least, greatest] in degrees"); err != nil {
			return err
		}
	}
	return nil
}

// object reads an object whose keys all are among those known, each once.
func object(what string, text []byte, known []string) (map[string]json.RawMessage, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	malformed := func(err error) error {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return BadSpec.errorf("%s ends too early, expected a JSON object", what)
		}
		return BadSpec.errorf("%s is malformed JSON near byte %d: %s", what, d.InputOffset(), strings.TrimPrefix(err.Error(), "json: "))
	}
	open, err := d.Token()
	if err != nil {
		return nil, malformed(err)
	}
	if open != json.Delim('{') {
		return nil, expected(what, text, "a JSON object")
	}
	values := map[string]json.RawMessage{}
	for d.More() {
		token, err := d.Token()
		if err != nil {
			return nil, malformed(err)
		}
		key, _ := token.(string) // nothing else stands here
		if !slices.Contains(known, key) {
			return nil, BadSpec.errorf("%s has an unknown key %q, expected one of %s", what, shorten(key), strings.Join(known, ", "))
		}
		if _, twice := values[key]; twice {
			return nil, BadSpec.errorf("%s has %s a second time, expected each key once", what, key)
		}
		var value json.RawMessage
		if err := d.Decode(&value); err != nil {
			return nil, malformed(fmt.Errorf("%s: %w", key, err))
		}
		values[key] = value
	}
	if _, err := d.Token(); err != nil {
		return nil, malformed(err)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, BadSpec.errorf("%s goes on after its end at byte %d, expected nothing there", what, d.InputOffset())
	}
	return values, nil
}

func isText(raw json.RawMessage) bool { return len(raw) > 0 && raw[0] == '"' }

func isNothing(raw json.RawMessage) bool { return string(raw) == "null" }

// word reads one of some words; values are what they stand for.
func word[T any](key string, raw json.RawMessage, values []T, words ...string) (T, error) {
	var text string
	if isText(raw) && json.Unmarshal(raw, &text) == nil {
		if i := slices.Index(words, text); i >= 0 {
			return values[i], nil
		}
	}
	var none T
	return none, expected(key, raw, `"`+strings.Join(words, `" or "`)+`"`)
}

// list reads shares.
func list(key string, raw json.RawMessage) ([]float64, error) {
	what := fmt.Sprintf("a list of %d to %d numbers from 0 to 1", chain.MinSegments, chain.MaxSegments)
	var items []any
	if json.Unmarshal(raw, &items) != nil || len(items) < chain.MinSegments || len(items) > chain.MaxSegments {
		return nil, expected(key, raw, what)
	}
	out := make([]float64, len(items))
	return out, numbers(key, raw, out, what)
}

// numbers reads a list of as many numbers as there is room for.
func numbers(key string, raw json.RawMessage, to []float64, what string) error {
	var items []any // in which null is not 0
	if json.Unmarshal(raw, &items) != nil || len(items) != len(to) {
		return expected(key, raw, what)
	}
	for i, item := range items {
		x, ok := item.(float64)
		if !ok {
			return expected(key, raw, what)
		}
		to[i] = x
	}
	return nil
}

// direction is numbers for what has no length of 0.
func direction(key string, raw json.RawMessage, to []float64, what string) error {
	what += ", not all 0"
	if err := numbers(key, raw, to, what); err != nil {
		return err
	}
	if slices.Max(to) == 0 && slices.Min(to) == 0 {
		return expected(key, raw, what)
	}
	return nil
}

func expected(key string, raw json.RawMessage, what string) error {
	return BadSpec.errorf("%s is %s, expected %s", key, shorten(strings.Join(strings.Fields(string(raw)), " ")), what)
}

// shorten keeps what was given from filling the message.
func shorten(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
