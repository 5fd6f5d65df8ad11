// Command mirrored writes a character whose right limbs hang from a mirroring scale, for
// the page's tests.
package main

import (
	"fmt"
	"os"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/wholefile"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: mirrored OUT.glb")
		os.Exit(2)
	}
	c, err := fixture.Build(fixture.Options{Axes: fixture.Odd, Mirrored: true})
	if err == nil {
		err = wholefile.Write(os.Args[1], c.Data)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "mirrored:", err)
		os.Exit(1)
	}
}
