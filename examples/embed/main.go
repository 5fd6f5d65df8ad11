// Command embed is a pipeline tool in one file: it splits a character's limbs,
// gives each as many segments as its clips' twists need, complains where the
// result is not good enough to ship, and saves it.
//
//	go run ./examples/embed character.glb character-split.glb
package main

import (
	"fmt"
	"io"
	"math"
	"os"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
)

// What a studio might ask for: fractions of a limb's radius and of a vertex' weight.
const mostLoss, mostMoved = 0.05, 0.1

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
	detected, err := asset.Detect(character)
	if err != nil {
		return err
	}
	options := asset.Options{Limbs: detected.Limbs, Influences: 8}
	_, report, err := asset.Split(character, options) // for the twists alone
	if err != nil {
		return err
	}
	for i, l := range report.Limbs { // in the order of options.Limbs
		enough, err := skin.Segments(l.TwistMaxDeg*math.Pi/180, mostLoss)
		if err != nil {
			return err
		}
		options.Limbs[i].Segments = min(max(enough, chain.MinSegments), chain.MaxSegments)
	}
	result, report, err := asset.Split(character, options)
	if err != nil {
		return err
	}
	for _, l := range report.Limbs {
		if l.WeightMovedMax > mostMoved {
			return fmt.Errorf("%s: %s: %.0f %% of a vertex's weight moved", in, l.Name, 100*l.WeightMovedMax)
		}
		fmt.Fprintf(log, "%s: %.0f degrees at most, %d segments\n", l.Name, l.TwistMaxDeg, len(l.Segments))
	}
	return result.Save(out)
}
