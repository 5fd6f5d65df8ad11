// Command pronate splits the limb bones of a skinned character into deform
// segments and shares the twist out along them. It is a thin shell over the
// packages of github.com/pronate/pronate.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
