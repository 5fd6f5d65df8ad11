package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

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
			return c, fmt.Errorf("column %q stands twice", name)
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
	if len(header) == 1 && len(c.rotation) == 0 && strings.ContainsAny(header[0], ";\t") {
		return c, fmt.Errorf("expected commas between the columns, found %q", header[0][strings.IndexAny(header[0], ";\t"):][:1])
	}
	if len(c.rotation) != 4 {
		return c, fmt.Errorf("expected the columns rotation_x, rotation_y, rotation_z, rotation_w, found %s", namesInShort(header))
	}
	if len(c.tip) != 0 && len(c.tip) != 4 {
		return c, fmt.Errorf("expected all of tip_x, tip_y, tip_z, tip_w, or none, found %s", namesInShort(header))
	}
	for i := range header {
		if !slices.Contains(c.rotation, i) && !slices.Contains(c.tip, i) {
			c.carried = append(c.carried, i)
		}
	}
	return c, nil
}

// namesInShort lists what columns there are, as far as a line has room.
func namesInShort(header []string) string {
	const most = 12
	list := strings.Join(header[:min(len(header), most)], ", ")
	if len(header) > most {
		list += ", …"
	}
	return list
}

// solveCSV solves row by row; it holds one row at a time. A row is a line: were
// a quoted cell allowed to go on in the next, one stray quote would swallow the
// rest of the file.
func solveCSV(in io.Reader, out io.Writer, settings solveSettings, failures *lineErrors) error {
	one := bytes.NewReader(nil) // the line that reader reads
	reader := csv.NewReader(one)
	reader.ReuseRecord = true
	reader.TrimLeadingSpace = true
	reader.FieldsPerRecord = -1
	writer := csv.NewWriter(out)
	var solver *rowSolver
	err := eachLine(in, failures, func(line int, text []byte) error {
		if solver == nil && text[0] == '{' {
			return fmt.Errorf("line %d is a JSON object, expected a header of CSV; without --csv it is read", line)
		}
		one.Reset(text)
		row, err := reader.Read()
		if err != nil {
			err = withoutPlace(err)
		}
		if solver == nil {
			if err == nil {
				solver, err = newRowSolver(row, settings)
			}
			if err != nil {
				return fmt.Errorf("line %d: %w", line, err)
			}
			return writer.Write(solver.header)
		}
		var answer []string
		if err == nil {
			answer, err = solver.solve(row)
		}
		if err != nil {
			failures.add(line, err)
			return nil
		}
		return writer.Write(answer)
	})
	writer.Flush()
	switch {
	case err != nil:
		return err
	case solver == nil:
		return errors.New("no header line, expected one that names rotation_x, rotation_y, rotation_z, rotation_w")
	}
	return writer.Error()
}

// withoutPlace drops the line that the CSV package names: it sees one at a time.
func withoutPlace(err error) error {
	if parse := (*csv.ParseError)(nil); errors.As(err, &parse) {
		return parse.Err
	}
	return err
}

// rowSolver solves the rows below a header.
type rowSolver struct {
	columns csvColumns
	width   int // of a row
	header  []string
	solver  *lineSolver
	row     outputRow
}

func newRowSolver(header []string, settings solveSettings) (*rowSolver, error) {
	header = slices.Clone(header) // the reader's own
	for i := range header {
		header[i] = strings.TrimSpace(header[i])
	}
	columns, err := findColumns(header)
	if err != nil {
		return nil, err
	}
	hasTip := len(columns.tip) > 0
	if settings.tipShares != nil && !hasTip {
		return nil, usagef("--tip-shares: expected the columns tip_x, tip_y, tip_z, tip_w in the input")
	}
	if settings.limb != nil {
		if err := settings.limb.refuseColumns(header, hasTip); err != nil {
			return nil, err
		}
	}
	solver, err := newLineSolver(settings, hasTip)
	if err != nil {
		return nil, err
	}
	written, err := outputHeader(header, columns, len(solver.segments))
	return &rowSolver{columns: columns, width: len(header), header: written, solver: solver}, err
}

func (s *rowSolver) solve(row []string) ([]string, error) {
	if len(row) != s.width {
		return nil, fmt.Errorf("has %d columns, expected %d as in the header", len(row), s.width)
	}
	answer, err := solveRow(row, s.columns, s.solver)
	if err != nil {
		return nil, err
	}
	return s.row.fill(row, s.columns, answer), nil
}

func solveRow(row []string, columns csvColumns, solver *lineSolver) (*solved, error) {
	joint, err := rowRotation(row, "rotation", columns.rotation)
	if err != nil {
		return nil, err
	}
	var tip quat.Number
	if len(columns.tip) > 0 {
		if tip, err = rowRotation(row, "tip", columns.tip); err != nil {
			return nil, err
		}
	}
	return solver.solve(joint, tip), nil
}

func rowRotation(row []string, field string, columns []int) (quat.Number, error) {
	var v [4]float64
	for i, column := range columns {
		x, err := strconv.ParseFloat(strings.TrimSpace(row[column]), 64)
		if err != nil {
			return quat.Number{}, fmt.Errorf("%s is %q, expected a number", quaternionNames(field)[i], row[column])
		}
		v[i] = x
	}
	return rotation(field, v[:])
}

func outputHeader(header []string, columns csvColumns, segments int) ([]string, error) {
	ours := []string{"twist_deg", "condition"}
	if len(columns.tip) > 0 {
		ours = append(ours, "tip_twist_deg")
	}
	ours = append(ours, quaternionNames("swing")...)
	for i := range segments {
		ours = append(ours, quaternionNames(fmt.Sprintf("segment%d", i+1))...)
	}
	var carried []string
	for _, i := range columns.carried {
		if slices.Contains(ours, header[i]) {
			return nil, fmt.Errorf("column %q is one that solve writes, expected another name", header[i])
		}
		carried = append(carried, header[i])
	}
	return append(carried, ours...), nil
}
