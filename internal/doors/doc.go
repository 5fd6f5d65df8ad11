// Package doors has no code of its own: its test holds every door of Pronate to one
// table. The same limb and the same rotations of joint and tip give the same
// segments through Go, C, WebAssembly, the command line, the notebook and the page, to
// the last bit, and through live constraints, which other people's programs work
// out, to 1e-6 of a quaternion's component.
//
// table.json is the table: some of Wren's limbs, in poses each, with the answers as
// decimals that are read back to the last bit, of float64 and of float32. `go test ./internal/doors -write` writes it anew,
// from chain alone; a test keeps it true.
//
// A door whose tools a machine does not have is skipped with a line that names them;
// with PRONATE_DOORS=all in the environment that is a failure. PRONATE_DOORS_NODE names
// a copy of .ci/node whose packages are installed, where they are not in .ci/node.
package doors
