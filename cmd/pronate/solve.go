package main

import (
	"bufio"
	"io"
	"os"

	"github.com/spf13/cobra"
)

func newSolve() *cobra.Command {
	s := solveSettings{axis: numbers{0, 1, 0}, shares: numbers{0, 1}}
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
condition is the cosine of half the swing: errors of the rotation come back in
the twist by its inverse, so near 0 the twist means little. At 0, a half-turn
swing, it is undefined and twist_deg is null. Where there is a tip,
"tip_twist_deg" follows, null likewise. Segments are rotations from rest,
swing · rot(axis, share · twist + tip share · tip twist); with --local they are
in the joint's frame, which is what a leaf joint below it takes.

CSV (--csv), commas between, one row a line: the header names rotation_x,
rotation_y, rotation_z, rotation_w and perhaps tip_x to tip_w; every other column
is carried through. Axis, shares and centre come from the flags. Out come
twist_deg, condition, tip_twist_deg where there is a tip, swing_x to swing_w and
segment1_x, …; an undefined twist leaves its cell empty.

A bad line gives {"line":N,"error":"…"} on standard error; the rest goes on,
and the exit code is 1.`,
		Example: `  echo '{"rotation":[0.5,0.5,0.5,0.5],"shares":[0,0.5,1]}' | pronate solve
  pronate solve --csv --axis 0,1,0 --shares 0,0.5,1 < thigh.csv > segments.csv`,
		Args: atMostOne("FILE"),
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
	flags.Var(&s.axis, "axis", "long axis of the bone at rest")
	flags.Var(&s.shares, "shares", "share of the twist each segment keeps, 0 to 1")
	flags.Var(&s.centre, "centre", "direction in the middle of the joint's range (default: the axis)")
	flags.Var(&s.tipShares, "tip-shares", "share of the tip's twist each segment takes, 0 to 1")
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
