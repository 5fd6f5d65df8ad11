package asset

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// compass is the directions across the bone in which a piece is seen from it at
// one station: a set of sectors.
type compass uint64

const sectors = 64

// mostGap is how many sectors in a row may be empty of what goes round the bone: a
// third of a turn. Sleeves with a slit go round, and what clasps a limb half way
// does not; of a convex thing beside the bone at least half a turn is empty.
const mostGap = sectors / 3

// mark adds the section of a triangle by the plane across the bone at a station.
func (c *compass) mark(t [3]r3.Vec, station float64) {
	var ends [2]r3.Vec
	n := 0
	for e := range t {
		a, b := t[e], t[(e+1)%3]
		if (a.X > station) == (b.X > station) || n == 2 {
			continue
		}
		ends[n] = r3.Add(a, r3.Scale((station-a.X)/(b.X-a.X), r3.Sub(b, a)))
		n++
	}
	a, b := ends[0], ends[1]
	from := math.Atan2(a.Z, a.Y)
	turn := math.Atan2(a.Y*b.Z-a.Z*b.Y, a.Y*b.Y+a.Z*b.Z)
	if n < 2 || from*0 != 0 || turn*0 != 0 { // overflow, in a hostile file
		return
	}
	sector := func(angle float64) int { return int(math.Floor(angle * sectors / (2 * math.Pi))) }
	for i := sector(min(from, from+turn)); i <= sector(max(from, from+turn)); i++ {
		*c |= 1 << uint(i&(sectors-1))
	}
}

// round reports whether what is seen goes round the bone.
func (c compass) round() bool {
	if c == 0 {
		return false
	}
	longest, run := 0, 0
	for i := range 2 * sectors { // a gap may lie over the end
		run++
		if c>>(i&(sectors-1))&1 == 1 {
			run = 0
		}
		longest = max(longest, run)
	}
	return longest <= mostGap
}
