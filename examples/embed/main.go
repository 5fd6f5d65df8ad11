// Command embed is a pipeline tool in one file: it finds a character's limbs,
// gives the thighs one segment more, leaves the forearms alone, splits, and
// complains where the result is not good enough to ship.
//
//	go run ./examples/embed character.glb character-split.glb
package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: embed IN OUT")
		os.Exit(2)
	}
	if err := split(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "embed:", err)
		os.Exit(1)
	}
}

func split(in, out string) error {
	character, err := asset.Open(in)
	if err != nil {
		return err
	}
	detected, err := asset.Detect(character)
	if err != nil {
		return err
	}
	limbs := slices.DeleteFunc(detected.Limbs, func(l asset.LimbSpec) bool { return l.Twist == "tip" })
	for i := range limbs {
		if strings.HasSuffix(limbs[i].Name, "thigh") {
			limbs[i].Segments++
		}
	}
	result, report, err := asset.Split(character, asset.Options{Limbs: limbs, Influences: 8})
	if err != nil {
		return err
	}
	for _, l := range report.Limbs {
		const tolerated = 0.1
		if l.DroppedWeightMax > tolerated {
			return fmt.Errorf("%s: a vertex could not keep %.0f %% of its weight in place", l.Name, 100*l.DroppedWeightMax)
		}
		fmt.Printf("%s: %s\n", l.Name, strings.Join(l.Segments, ", "))
	}
	return result.Save(out)
}
