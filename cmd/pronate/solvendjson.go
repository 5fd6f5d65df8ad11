package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"gonum.org/v1/gonum/num/quat"
)

// solveLine is one line of NDJSON input.
type solveLine struct {
	Rotation  jsonNumbers `json:"rotation"`
	Axis      jsonNumbers `json:"axis"`
	Shares    jsonNumbers `json:"shares"`
	Centre    jsonNumbers `json:"centre"`
	Tip       jsonNumbers `json:"tip"`
	TipShares jsonNumbers `json:"tip_shares"`
}

// jsonNumbers is a list of numbers. Its elements are pointers because a null,
// which is how some programs write what is no number, must not pass for a zero.
type jsonNumbers []*float64

// given reports whether the line has the list. One emptied for the next line
// keeps its memory, whereas an empty list in JSON comes as one without any.
func (n jsonNumbers) given() bool { return n != nil && (len(n) > 0 || cap(n) == 0) }

// solveNDJSON solves line by line; it holds one line at a time.
func solveNDJSON(in io.Reader, out io.Writer, settings solveSettings, failures *lineErrors) error {
	encoder := json.NewEncoder(out)
	var reader objectReader
	var recent recentSolvers
	return eachLine(in, failures, func(line int, text []byte) error {
		if line == 1 && text[0] != '{' && bytes.Contains(text, []byte("rotation_x")) {
			// One line of error for all of the file's.
			failures.add(line, errors.New("is the header of CSV, expected one JSON object; --csv reads it"))
			return errReported
		}
		answer, err := solveText(text, settings, &reader, &recent)
		if err != nil {
			failures.add(line, err)
			return nil
		}
		return encoder.Encode(answer)
	})
}

func solveText(text []byte, settings solveSettings, reader *objectReader, recent *recentSolvers) (*solved, error) {
	given, err := reader.read(text)
	if err != nil {
		return nil, err
	}
	if settings.limb != nil {
		if err := settings.limb.refuse(given); err != nil {
			return nil, err
		}
	}
	for _, setting := range [...]struct{ from, into *numbers }{
		{&given.axis, &settings.axis}, {&given.shares, &settings.shares},
		{&given.centre, &settings.centre}, {&given.tipShares, &settings.tipShares},
	} {
		if *setting.from != nil {
			*setting.into = *setting.from
		}
	}
	if given.tipShares != nil && given.tip == nil {
		return nil, errors.New("tip_shares without tip, expected both or neither")
	}
	joint, err := rotation("rotation", given.rotation)
	if err != nil {
		return nil, err
	}
	var tip quat.Number
	if given.tip != nil {
		if tip, err = rotation("tip", given.tip); err != nil {
			return nil, err
		}
	}
	solver, err := recent.find(settings, given.tip != nil)
	if err != nil {
		return nil, err
	}
	return solver.solve(joint, tip), nil
}

const solveFields = "rotation, axis, shares, centre, tip, tip_shares"

// noObject words what the JSON package says of a line that it could not read.
func noObject(line []byte, err error) error {
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind) && kind.Field == "":
		return fmt.Errorf("expected one JSON object, found %s", kind.Value)
	case errors.As(err, &kind) && strings.HasPrefix(kind.Value, "number "):
		return fmt.Errorf("%s: %s is too large", kind.Field, kind.Value)
	case errors.As(err, &kind):
		return fmt.Errorf("%s: expected a list of numbers", kind.Field)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("expected one JSON object, found the beginning of one")
	}
	if field, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return fmt.Errorf("unknown field %s, expected one of %s", field, solveFields)
	}
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) && line[0] == '{' {
		return fmt.Errorf("no JSON object: malformed at character %d, expected one such as {\"rotation\":[0,0,0,1]}", syntax.Offset)
	}
	return errors.New("no JSON object, expected one such as {\"rotation\":[0,0,0,1]}")
}

// givenNumbers is what a line says; a list is nil where it is left out.
type givenNumbers struct {
	rotation, axis, shares, centre, tip, tipShares numbers
}

// objectReader reads line after line into the same memory.
type objectReader struct {
	line    solveLine
	given   givenNumbers
	lists   [6]numbers // what given's lie in
	text    bytes.Reader
	decoder *json.Decoder // reads text; nil before the first line, and after one that it failed on
}

// read reads the one object of a line. What it gives is good until the next call.
func (r *objectReader) read(text []byte) (*givenNumbers, error) {
	l, g := &r.line, &r.given
	for _, list := range [...]*jsonNumbers{&l.Rotation, &l.Axis, &l.Shares, &l.Centre, &l.Tip, &l.TipShares} {
		if *list = (*list)[:0]; cap(*list) == 0 {
			*list = nil // it was an empty list
		}
	}
	if err := r.decode(text); err != nil {
		return nil, err
	}
	for i, f := range [...]struct {
		name string
		list jsonNumbers
		into *numbers
	}{
		{"rotation", l.Rotation, &g.rotation}, {"axis", l.Axis, &g.axis}, {"shares", l.Shares, &g.shares},
		{"centre", l.Centre, &g.centre}, {"tip", l.Tip, &g.tip}, {"tip_shares", l.TipShares, &g.tipShares},
	} {
		if *f.into = nil; !f.list.given() {
			continue
		}
		list := append(r.lists[i][:0], make(numbers, len(f.list))...)
		for k, x := range f.list {
			if x == nil {
				return nil, fmt.Errorf("%s: expected a list of numbers, found null in it", f.name)
			}
			list[k] = *x
		}
		if list == nil {
			list = numbers{}
		}
		r.lists[i], *f.into = list, list
	}
	return g, nil
}

func (r *objectReader) decode(text []byte) error {
	fresh := r.decoder == nil
	if fresh {
		r.decoder = json.NewDecoder(&r.text)
		r.decoder.DisallowUnknownFields()
	}
	r.text.Reset(text)
	err := decodeObject(r.decoder, &r.line, text)
	if err != nil {
		r.decoder = nil // it goes on failing, and counts characters from the first line
		if !fresh {
			return r.decode(text)
		}
	}
	return err
}

func decodeObject(decoder *json.Decoder, line *solveLine, text []byte) error {
	if err := decoder.Decode(line); err != nil {
		return noObject(text, err)
	}
	if _, err := decoder.Token(); err != io.EOF {
		return errors.New("expected one JSON object a line, found more")
	}
	return nil
}
