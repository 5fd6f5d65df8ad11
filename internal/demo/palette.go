package demo

import "math"

// Wren's colours, linear, from sRGB.
var (
	skinTone  = srgb(0xc9, 0x8d, 0x6a)
	lipTone   = srgb(0xa8, 0x5f, 0x50)
	hairTone  = srgb(0x55, 0x2e, 0x1c)
	eyeWhite  = srgb(0xee, 0xe8, 0xe0)
	irisTone  = srgb(0x4a, 0x38, 0x22)
	pupilTone = srgb(0x12, 0x0e, 0x0c)
	lashTone  = srgb(0x2a, 0x1a, 0x14)
	mouthTone = srgb(0x6e, 0x35, 0x2e)
	shirtTone = srgb(0x1f, 0x6f, 0x78)
	legsTone  = srgb(0x2b, 0x33, 0x44)
	trimTone  = srgb(0xe8, 0xb8, 0x5c)
	shoeTone  = srgb(0xa8, 0x45, 0x2c)
	soleTone  = srgb(0x22, 0x20, 0x20)
)

// srgb decodes 8-bit sRGB (IEC 61966-2-1, from memory).
func srgb(r, g, b uint8) colour {
	var c colour
	for i, v := range [3]uint8{r, g, b} {
		x := float64(v) / 255
		if x <= 0.04045 {
			c[i] = x / 12.92
		} else {
			c[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	return c
}

// cloth is how far clothes stand off the skin, in metres.
const cloth = 0.0025
