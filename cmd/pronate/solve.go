package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
)

func newSolve() *cobra.Command {
	var s solveSettings
	var asCSV bool
	c := &cobra.Command{
		Use:   "solve [FILE]",
		Short: "Rotations in, segments out, as NDJSON or CSV",
		Long: `Solve reads rotations from rest and writes the rotations of the segments, line
by line, from a file or standard input. Quaternions are x, y, z, w and may have
any length; angles are degrees.

NDJSON in, one object a line:
  {"rotation":[x,y,z,w],"axis":[x,y,z],"shares":[0,0.5,1],"centre":[x,y,z],
   "tip":[x,y,z,w],"tip_shares":[0,0.5,1]}
Only rotation is needed: axis is [0,1,0], shares [0,1] where the line leaves
them out, centre the axis itself. tip is the rotation from rest of a joint at
the tip, in the joint's frame; without tip_shares it is ramped from 0 to 1.

NDJSON out:
  {"twist_deg":…,"condition":…,"swing":[x,y,z,w],"segments":[[x,y,z,w],…]}
twist_deg is null where the twist is undefined (a half-turn swing, condition 0);
"tip_twist_deg" follows where there is a tip. Segments are rotations from rest,
swing · rot(axis, share · twist + tip share · tip twist); with --local they are
in the joint's frame, which is what a leaf joint below it takes.

CSV (--csv): the header names rotation_x, rotation_y, rotation_z, rotation_w and
perhaps tip_x to tip_w; every other column is carried through. Axis, shares and
centre come from the flags. Out come twist_deg, condition, swing_x to swing_w
and segment1_x, …

A bad line gives {"line":N,"error":"…"} on standard error; the rest goes on,
and the exit code is 1.`,
		Example: `  echo '{"rotation":[0.5,0.5,0.5,0.5],"shares":[0,0.5,1]}' | pronate solve
  pronate solve --csv --axis 0,1,0 --shares 0,0.5,1 < thigh.csv > segments.csv`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			in, closeIn, err := input(c, args)
			if err != nil {
				return err
			}
			defer closeIn()
			if err := s.check(); err != nil {
				return err
			}
			out := bufio.NewWriter(c.OutOrStdout())
			failures := &lineErrors{out: c.ErrOrStderr()}
			if asCSV {
				err = solveCSV(in, out, s, failures)
			} else {
				err = solveNDJSON(in, out, s, failures)
			}
			if flushErr := out.Flush(); err == nil {
				err = flushErr
			}
			if err == nil && failures.count > 0 {
				err = errReported
			}
			return err
		},
	}
	flags := c.Flags()
	flags.BoolVar(&asCSV, "csv", false, "read and write CSV with a header line")
	flags.BoolVar(&s.local, "local", false, "write segments in the joint's frame")
	flags.Float64SliceVar(&s.axis, "axis", []float64{0, 1, 0}, "long axis of the bone at rest")
	flags.Float64SliceVar(&s.shares, "shares", []float64{0, 1}, "share of the twist each segment keeps, 0 to 1")
	flags.Float64SliceVar(&s.centre, "centre", nil, "direction in the middle of the joint's range (default: the axis)")
	flags.Float64SliceVar(&s.tipShares, "tip-shares", nil, "share of the tip's twist each segment takes, 0 to 1")
	return c
}

// input opens the file named, or standard input.
func input(c *cobra.Command, args []string) (io.Reader, func(), error) {
	if len(args) == 0 || args[0] == standard {
		return c.InOrStdin(), func() {}, nil
	}
	file, err := os.Open(args[0])
	if err != nil {
		return nil, nil, err
	}
	return file, func() { file.Close() }, nil
}

// lineErrors prints one JSON object for every line that could not be solved.
type lineErrors struct {
	out   io.Writer
	count int
}

func (e *lineErrors) add(line int, err error) {
	e.count++
	text, marshalErr := json.Marshal(struct {
		Line  int    `json:"line"`
		Error string `json:"error"`
	}{line, err.Error()})
	if marshalErr == nil {
		fmt.Fprintf(e.out, "%s\n", text)
	}
}

// longestLine bounds what one line may hold: 32 segments with their shares
// take a few kilobytes.
const longestLine = 1 << 20

// eachLine calls f for every line that is not blank. A line over the limit is
// an error of that line, and what follows is read on.
func eachLine(in io.Reader, failures *lineErrors, f func(line int, text []byte)) error {
	reader := bufio.NewReaderSize(in, 1<<16)
	var long []byte
	for line := 1; ; line++ {
		long = long[:0]
		tooLong := false
		for {
			part, err := reader.ReadSlice('\n')
			if len(long)+len(part) > longestLine {
				tooLong = true
			} else {
				long = append(long, part...)
			}
			if err == bufio.ErrBufferFull {
				continue
			}
			if err != nil && err != io.EOF {
				return err
			}
			text := bytes.TrimSpace(long)
			switch {
			case tooLong:
				failures.add(line, fmt.Errorf("line of over %d bytes", longestLine))
			case len(text) > 0:
				f(line, text)
			}
			if err == io.EOF {
				return nil
			}
			break
		}
	}
}
