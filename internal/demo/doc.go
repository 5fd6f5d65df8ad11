// Package demo makes Wren, a climber: a skeleton, a closed skin and four
// clips, written as a glTF 2.0 file.
//
// Wren stands on the ground plane, facing +Z, +Y up, so +X is her left; lengths
// are metres, angles radians. At rest her arms hang 40 degrees out from her
// sides. She carries the set-up that a character usually comes with: one deform
// joint per bone, at most four influences per vertex, and joint frames of which
// some have nothing to do with the bones that follow them. The demo splits her
// limbs and compares her skin in the clips before and after.
//
// Her limbs have the lengths of Drillis and Contini (1966), her cross-sections
// are invented. The bytes are the same on every run.
package demo
