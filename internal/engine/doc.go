// Package engine is what the doors to other languages share: limbs behind numbers,
// specifications that are plain data, a status and a line of text for all that can
// be wrong, and arrays by address. cmd/libpronate is the door to C, and the one to
// WebAssembly.
//
// Nothing that comes in panics. Fields of a specification are named as
// pronate.h and its JSON form name them.
package engine
