// Command embed is a pipeline tool in one file: it splits those limbs of a character
// that gain by it, says why others stay as they are, refuses a result that is not good
// enough to ship, and saves it.
//
//	go run ./examples/embed character.glb character-split.glb
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/pronate/pronate/chain/asset"
)

// mostMoved is what a studio might allow: a fraction of a vertex' weight.
const mostMoved = 0.1

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: embed IN OUT")
		os.Exit(2)
	}
	if err := split(os.Stdout, os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "embed:", err)
		os.Exit(1)
	}
}

func split(log io.Writer, in, out string) error {
	character, err := asset.Open(in)
	if err != nil {
		return err
	}
	result, report, err := asset.Split(character, asset.Options{Influences: 8})
	if err != nil {
		return err
	}
	for _, c := range report.Choices {
		if !c.Split {
			fmt.Fprintf(log, "%s: %s\n", c.Limb, c.Reason)
		}
	}
	for _, l := range report.Limbs {
		if l.WeightMovedMax > mostMoved {
			return fmt.Errorf("%s: %s: %.0f %% of a vertex's weight moved", in, l.Name, 100*l.WeightMovedMax)
		}
		fmt.Fprintf(log, "%s: %.0f degrees at most, %d segments, field %s\n", l.Name, l.TwistMaxDeg, len(l.Segments), l.Field)
	}
	return result.Save(out)
}
