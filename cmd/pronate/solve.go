package main

import (
	"bufio"
	"io"
	"os"

	"github.com/spf13/cobra"
)

func newSolve() *cobra.Command {
	s := solveSettings{axis: numbers{0, 1, 0}, shares: numbers{0, 1}}
	var limb solveLimbFlags
	var asCSV bool
	c := &cobra.Command{
		Use:   "solve [FILE]",
		Short: "Rotations in, segments out, as NDJSON or CSV",
		Long: `Solve reads rotations from rest and writes the rotations of the segments, line
by line, from a file or standard input. It holds one line at a time, and what it
has answered is written before it waits for more.

Rotations are quaternions x, y, z, w: without unit, of any length but 0 when
read, of length 1 when written. Directions are x, y, z in the joint's frame at
rest, without unit, of any length but 0. Angles are degrees. Shares are 0 to 1.

NDJSON in, one object a line:
  {"rotation":[x,y,z,w],"axis":[x,y,z],"shares":[0,0.5,1],"centre":[x,y,z],
   "tip":[x,y,z,w],"tip_shares":[0,0.5,1]}

  rotation    the joint's rotation from rest; needed
  axis        direction of the bone's long axis; left out: --axis, or 0,1,0
  shares      what each segment keeps of the twist, 2 to 32 of them; left out:
              --shares, or 0,1
  centre      direction that swings go by way of; left out: --centre, or the axis
  tip         rotation from rest of a joint at the tip, in the joint's frame
  tip_shares  what each segment takes of the tip's twist, as many as shares; only
              where there is a tip; left out: --tip-shares, or from 0 to 1 in
              equal steps

NDJSON out, one object a line:
  {"twist_deg":…,"condition":…,"swing":[x,y,z,w],"segments":[[x,y,z,w],…]}

  twist_deg      the joint's twist in degrees, -180 to 180; null where undefined
  tip_twist_deg  the tip's; only where there is a tip
  condition      0 to 1, the cosine of half the angle between the bone and the
                 centre, or the axis where there is none: errors of the rotation
                 come back in the twist by its inverse, so near 0 the twist means
                 little, and at 0, half a turn away, it is undefined
  swing          rotation from rest without its twist
  segments       rotations from rest, swing · rot(axis, share · twist + tip share ·
                 tip twist); with --local they are in the joint's frame, which is
                 what a leaf joint below it takes

CSV (--csv) in: commas between, one row a line. The header names, in any order,
  rotation_x, rotation_y, rotation_z, rotation_w    as rotation above; needed
  tip_x, tip_y, tip_z, tip_w                        as tip above; all or none
Every other column is carried through. Axis, shares and centre come from the
flags, or from the limb.

CSV out: a header, and in this order
  the columns carried through
  twist_deg, condition, tip_twist_deg               as above; an undefined twist
                                                    leaves its cell empty
  swing_x, swing_y, swing_z, swing_w                as swing above
  segment1_x, segment1_y, segment1_z, segment1_w,
  segment2_x, …                                     as segments above

A limb of a limb file (--limbs, and --limb where it has several) takes the place
of axis, shares, centre and tip_shares, in lines and in flags, and brings its
range and field. Every line then has rotation and, where the limb's twist is tip,
tip; where it is own, none. Stretch and crease are split's alone.
  --limbs alone   Names tell what kind of limb it is, and its side; --axis says
                  where the bone points at rest. Rotations stand along the axes of
                  a character upright along +Y that faces +Z. A direction for
                  centre is in the same axes.
  --character     Axis, frames at rest, range and, without --limbs, the limbs come
                  from a .glb or .gltf. With the limb file that split --resolved
                  writes, the answers are those that split bakes.
                  rotation is against the anchor, in the joint's frame at rest: for
                  a joint right below its anchor R⁻¹ · K, with R its rotation in
                  the bind pose, which most files have their nodes in, and K the
                  one in the pose; tip is K · R⁻¹ of a tip right below the joint.
A range of motion that cannot be used, and with --character other warnings about
the limb, are printed on standard error before the first answer.

A bad line gives {"line":N,"error":"…"} on standard error; the rest goes on,
and the exit code is 1.`,
		Example: `  echo '{"rotation":[0.5,0.5,0.5,0.5],"shares":[0,0.5,1]}' | pronate solve
  pronate solve --csv --axis 0,1,0 --shares 0,0.5,1 < thigh.csv > segments.csv
  pronate solve --csv --character wren.glb --limbs resolved.yaml --limb "left thigh" thigh.csv`,
		Args: atMostOne("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			in, closeIn, err := input(c, args)
			if err != nil {
				return err
			}
			defer closeIn()
			from := standard
			if len(args) > 0 {
				from = args[0]
			}
			if s.limb, err = limb.read(c, s.axis, from); err != nil {
				return err
			}
			if err := s.check(); err != nil {
				return err
			}
			out := bufio.NewWriterSize(c.OutOrStdout(), 1<<16)
			in = flushFirst{in, out}
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
	limb.register(c)
	return c
}

// flushFirst flushes what was answered before it asks for more input, so that
// whoever waits for an answer before writing the next line gets it.
type flushFirst struct {
	in  io.Reader
	out *bufio.Writer
}

func (f flushFirst) Read(p []byte) (int, error) {
	if err := f.out.Flush(); err != nil {
		return 0, err
	}
	return f.in.Read(p)
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
