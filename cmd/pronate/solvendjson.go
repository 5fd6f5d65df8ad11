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

// jsonNumbers is a list of numbers, or nil. Its elements are pointers because a
// null, which is how some programs write what is no number, must not pass for
// a zero.
type jsonNumbers []*float64

// solveNDJSON solves line by line; it holds one line at a time.
func solveNDJSON(in io.Reader, out io.Writer, settings solveSettings, failures *lineErrors) error {
	encoder := json.NewEncoder(out)
	var last *lineSolver
	return eachLine(in, failures, func(line int, text []byte) error {
		answer, err := solveText(text, settings, &last)
		if err != nil {
			failures.add(line, err)
			return nil
		}
		return encoder.Encode(answer)
	})
}

func solveText(text []byte, settings solveSettings, last **lineSolver) (solved, error) {
	line, err := readObject(text)
	if err != nil {
		return solved{}, err
	}
	var joint, tip, tipShares numbers
	for _, given := range []struct {
		field string
		value jsonNumbers
		into  *numbers
	}{
		{"rotation", line.Rotation, &joint},
		{"axis", line.Axis, &settings.axis},
		{"shares", line.Shares, &settings.shares},
		{"centre", line.Centre, &settings.centre},
		{"tip", line.Tip, &tip},
		{"tip_shares", line.TipShares, &tipShares},
	} {
		if given.value == nil {
			continue
		}
		*given.into = make(numbers, len(given.value))
		for i, x := range given.value {
			if x == nil {
				return solved{}, fmt.Errorf("%s: expected a list of numbers, found null in it", given.field)
			}
			(*given.into)[i] = *x
		}
	}
	if tipShares != nil {
		settings.tipShares = tipShares
		if tip == nil {
			return solved{}, errors.New("tip_shares without tip, expected both or neither")
		}
	}
	rotated, err := rotation("rotation", joint)
	if err != nil {
		return solved{}, err
	}
	var tipRotated quat.Number
	if tip != nil {
		if tipRotated, err = rotation("tip", tip); err != nil {
			return solved{}, err
		}
	}
	if !(*last).serves(settings, tip != nil) {
		solver, err := newLineSolver(settings, tip != nil)
		if err != nil {
			return solved{}, err
		}
		*last = solver
	}
	return (*last).solve(rotated, tipRotated), nil
}

const solveFields = "rotation, axis, shares, centre, tip, tip_shares"

// noObject words what the JSON package says of a line that it could not read.
func noObject(line []byte, err error) error {
	if field, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return fmt.Errorf("unknown field %s, expected one of %s", field, solveFields)
	}
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) && line[0] == '{' {
		return fmt.Errorf("no JSON object: malformed at character %d, expected one such as {\"rotation\":[0,0,0,1]}", syntax.Offset)
	}
	return errors.New("no JSON object, expected one such as {\"rotation\":[0,0,0,1]}")
}

// readObject reads the one object of a line.
func readObject(text []byte) (line solveLine, err error) {
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	err = decoder.Decode(&line)
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind) && kind.Field == "":
		return line, fmt.Errorf("expected one JSON object, found %s", kind.Value)
	case errors.As(err, &kind) && strings.HasPrefix(kind.Value, "number "):
		return line, fmt.Errorf("%s: %s is too large", kind.Field, kind.Value)
	case errors.As(err, &kind):
		return line, fmt.Errorf("%s: expected a list of numbers", kind.Field)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return line, errors.New("expected one JSON object, found the beginning of one")
	case err != nil:
		return line, noObject(text, err)
	}
	if _, err := decoder.Token(); err != io.EOF {
		return line, errors.New("expected one JSON object a line, found more")
	}
	return line, nil
}
