// Command libpronate is Pronate as a library for other languages: C by the
// functions of pronate.h, see README.md, and WebAssembly in the folder js.
// What it does is in internal/engine; here are only the doors.
package main

// A library begins with those who load it.
func main() {}
