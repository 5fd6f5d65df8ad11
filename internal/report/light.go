package report

import "gonum.org/v1/gonum/spatial/r3"

// rig is a set of lights that moves with the camera: a warm key from above on
// the left, a cool fill from the right, a rim from behind, and the sky.
type rig struct {
	key, fill, rim, up, toEye r3.Vec
	half                      r3.Vec // between key and eye
	rimStrength               float64
}

var (
	keyTint  = Colour{1.00, 0.97, 0.92}
	fillTint = Colour{0.92, 0.96, 1.00}
)

func (v *view) rig(theme Theme) rig {
	at := func(x, y, z float64) r3.Vec {
		d := r3.Add(r3.Scale(x, v.right), r3.Add(r3.Scale(y, v.up), r3.Scale(z, v.back)))
		return r3.Unit(d)
	}
	key := at(-0.55, 0.75, 0.75)
	return rig{
		key:         key,
		half:        r3.Unit(r3.Add(key, v.back)),
		fill:        at(0.9, 0.1, 0.6),
		rim:         at(0.5, 0.6, -0.8),
		up:          r3.Vec{Y: 1},
		toEye:       v.back,
		rimStrength: theme.Rim,
	}
}

// shade lights a point with unit normal n. lit is the share of the key that
// reaches it.
func (r *rig) shade(base Colour, n r3.Vec, lit float64) Colour {
	// A wrapped cosine lets the key fade out softly past the terminator.
	const wrap = 0.2
	key := max((r3.Dot(n, r.key)+wrap)/(1+wrap), 0) * lit
	fill := max(0.5+0.5*r3.Dot(n, r.fill), 0)
	sky := 0.5 + 0.5*r3.Dot(n, r.up)
	light := keyTint.scale(0.72 * key).add(fillTint.scale(0.16*fill + 0.08 + 0.14*sky))
	c := base.times(light)

	facing := max(r3.Dot(n, r.toEye), 0)
	edge := (1 - facing) * (1 - facing) * (1 - facing)
	c = c.add(Colour{1, 1, 1}.scale(0.22 * r.rimStrength * edge * max(r3.Dot(n, r.rim)+0.2, 0)))

	gloss := max(r3.Dot(n, r.half), 0)
	gloss *= gloss * gloss // 3rd power, then 6th, 12th, 24th
	gloss *= gloss
	gloss *= gloss
	gloss *= gloss
	return c.add(Colour{1, 1, 1}.scale(0.03 * gloss * lit))
}
