// Command wren writes the page's first character.
package main

import (
	"fmt"
	"os"

	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/wholefile"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: wren OUT.glb")
		os.Exit(2)
	}
	data, err := demo.Wren()
	if err == nil {
		err = wholefile.Write(os.Args[1], data)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "wren:", err)
		os.Exit(1)
	}
}
