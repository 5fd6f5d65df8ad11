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
	Rotation  []float64 `json:"rotation"`
	Axis      []float64 `json:"axis"`
	Shares    []float64 `json:"shares"`
	Centre    []float64 `json:"centre"`
	Tip       []float64 `json:"tip"`
	TipShares []float64 `json:"tip_shares"`
}

// solveNDJSON solves line by line; it holds one line at a time.
func solveNDJSON(in io.Reader, out io.Writer, settings solveSettings, failures *lineErrors) error {
	encoder := json.NewEncoder(out)
	var last *lineSolver
	var writeErr error
	err := eachLine(in, failures, func(line int, text []byte) {
		if writeErr != nil {
			return
		}
		answer, err := solveText(text, settings, &last)
		if err != nil {
			failures.add(line, err)
			return
		}
		writeErr = encoder.Encode(answer)
	})
	return errors.Join(err, writeErr)
}

func solveText(text []byte, settings solveSettings, last **lineSolver) (solved, error) {
	var line solveLine
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&line); err != nil {
		return solved{}, fmt.Errorf("expected one JSON object: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if decoder.More() {
		return solved{}, errors.New("expected one JSON object a line, found more")
	}
	for _, given := range []struct {
		value []float64
		into  *[]float64
	}{{line.Axis, &settings.axis}, {line.Shares, &settings.shares}, {line.Centre, &settings.centre}, {line.TipShares, &settings.tipShares}} {
		if given.value != nil {
			*given.into = given.value
		}
	}
	joint, err := rotation("rotation", line.Rotation)
	if err != nil {
		return solved{}, err
	}
	var tip quat.Number
	if line.Tip != nil {
		if tip, err = rotation("tip", line.Tip); err != nil {
			return solved{}, err
		}
	} else if line.TipShares != nil {
		return solved{}, errors.New("tip_shares without tip, expected both or neither")
	}
	if !(*last).serves(settings, line.Tip != nil) {
		solver, err := newLineSolver(settings, line.Tip != nil)
		if err != nil {
			return solved{}, err
		}
		*last = solver
	}
	return (*last).solve(joint, tip), nil
}
