// Package report draws pictures of deformed characters without a graphics card:
// a rasteriser with a depth buffer, a scale of colours for losses, and sheets of
// captioned panels.
//
// Positions are metres in a right-handed world with +Y up. Colours given per
// vertex are linear RGB; pictures are 8-bit sRGB. The same input gives the same
// picture on every run.
package report
