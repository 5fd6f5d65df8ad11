package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/num/quat"
)

// csvColumns says where in a row the quaternions stand.
type csvColumns struct {
	rotation, tip []int // four columns each; tip nil where there are none
	carried       []int // every other column
}

func quaternionNames(prefix string) []string {
	return []string{prefix + "_x", prefix + "_y", prefix + "_z", prefix + "_w"}
}

func findColumns(header []string) (csvColumns, error) {
	var c csvColumns
	for i, name := range header {
		if slices.Contains(header[:i], name) {
			return c, fmt.Errorf("line 1: column %q stands twice", name)
		}
	}
	find := func(prefix string) []int {
		var at []int
		for _, name := range quaternionNames(prefix) {
			if i := slices.Index(header, name); i >= 0 {
				at = append(at, i)
			}
		}
		return at
	}
	c.rotation, c.tip = find("rotation"), find("tip")
	if len(c.rotation) != 4 {
		return c, errors.New("line 1: expected the columns rotation_x, rotation_y, rotation_z, rotation_w")
	}
	if len(c.tip) != 0 && len(c.tip) != 4 {
		return c, errors.New("line 1: expected all of tip_x, tip_y, tip_z, tip_w, or none")
	}
	for i := range header {
		if !slices.Contains(c.rotation, i) && !slices.Contains(c.tip, i) {
			c.carried = append(c.carried, i)
		}
	}
	return c, nil
}

// solveCSV solves row by row; it holds one row at a time.
func solveCSV(in io.Reader, out io.Writer, settings solveSettings, failures *lineErrors) error {
	reader := csv.NewReader(in)
	reader.ReuseRecord = true
	header, err := reader.Read()
	if err == io.EOF {
		return errors.New("no header line, expected one that names rotation_x, rotation_y, rotation_z, rotation_w")
	}
	if err != nil {
		return err
	}
	columns, err := findColumns(header)
	if err != nil {
		return err
	}
	hasTip := len(columns.tip) > 0
	if settings.tipShares != nil && !hasTip {
		return usagef("--tip-shares: expected the columns tip_x, tip_y, tip_z, tip_w in the input")
	}
	solver, err := newLineSolver(settings, hasTip)
	if err != nil {
		return err
	}
	writer := csv.NewWriter(out)
	if err := writer.Write(outputHeader(header, columns, len(solver.segments))); err != nil {
		return err
	}
	for {
		row, err := reader.Read()
		if err == io.EOF {
			writer.Flush()
			return writer.Error()
		}
		if parse := (*csv.ParseError)(nil); errors.As(err, &parse) {
			failures.add(parse.StartLine, parse.Err)
			continue
		}
		if err != nil {
			return err
		}
		line, _ := reader.FieldPos(0)
		answer, err := solveRow(row, columns, solver)
		if err != nil {
			failures.add(line, err)
			continue
		}
		if err := writer.Write(outputRow(row, columns, answer)); err != nil {
			return err
		}
	}
}

func solveRow(row []string, columns csvColumns, solver *lineSolver) (solved, error) {
	joint, err := rowRotation(row, "rotation", columns.rotation)
	if err != nil {
		return solved{}, err
	}
	var tip quat.Number
	if len(columns.tip) > 0 {
		if tip, err = rowRotation(row, "tip", columns.tip); err != nil {
			return solved{}, err
		}
	}
	return solver.solve(joint, tip), nil
}

func rowRotation(row []string, field string, columns []int) (quat.Number, error) {
	v := make([]float64, 4)
	for i, column := range columns {
		x, err := strconv.ParseFloat(row[column], 64)
		if err != nil {
			return quat.Number{}, fmt.Errorf("%s is %q, expected a number", quaternionNames(field)[i], row[column])
		}
		v[i] = x
	}
	return rotation(field, v)
}

func outputHeader(header []string, columns csvColumns, segments int) []string {
	var out []string
	for _, i := range columns.carried {
		out = append(out, header[i])
	}
	out = append(out, "twist_deg", "condition")
	if len(columns.tip) > 0 {
		out = append(out, "tip_twist_deg")
	}
	out = append(out, quaternionNames("swing")...)
	for i := range segments {
		out = append(out, quaternionNames(fmt.Sprintf("segment%d", i+1))...)
	}
	return out
}

func outputRow(row []string, columns csvColumns, answer solved) []string {
	var out []string
	for _, i := range columns.carried {
		out = append(out, row[i])
	}
	number := func(x float64) { out = append(out, strconv.FormatFloat(x, 'g', -1, 64)) }
	maybe := func(x *float64) { // an undefined twist leaves its cell empty
		if x == nil {
			out = append(out, "")
			return
		}
		number(*x)
	}
	maybe(answer.Twist)
	number(answer.Condition)
	if len(columns.tip) > 0 {
		maybe(answer.TipTwist)
	}
	for _, q := range append([][4]float64{answer.Swing}, answer.Segments...) {
		for _, x := range q {
			number(x)
		}
	}
	return out
}
