package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The palm, measured from the wrist.
const (
	thumbRoot = 0.022 // where the thumb leaves the palm
	palmEnd   = 0.086 // the last loop before the knuckles
	palmHalf  = 0.038 // half the breadth at the knuckles
)

// across says where the palm's loop lies at the knuckles, as a fraction of half
// the breadth, for the vertices from the index finger's side to the little
// finger's. The fingers part at vertices 3, 5 and 7.
var across = [11]float64{1, 0.93, 0.74, 0.5, 0.25, 0, -0.25, -0.5, -0.74, -0.93, -1}

// finger is one finger: where its root is across the palm, how far the knuckle
// lies beyond the last loop, its length and radius, its spread towards the
// index finger's side.
type finger struct{ across, knuckle, length, radius, spread float64 }

var fingers = [4]finger{
	{0.76, 0.012, 0.078, 0.0088, 0.09},
	{0.25, 0.016, 0.086, 0.0090, 0.02},
	{-0.25, 0.012, 0.080, 0.0087, -0.04},
	{-0.74, 0.006, 0.063, 0.0078, -0.12},
}

// handPoint is a point given along the arm from the wrist, across the palm
// towards the index finger, and towards the palm's inside.
func handPoint(along, across, inside float64) r3.Vec {
	p := r3.Add(wrist, r3.Scale(along, armDirection))
	return r3.Add(p, r3.Add(r3.Scale(across, fore), r3.Scale(inside, towardsBody)))
}

// hand ends the arm with four fingers. The loop's first vertex lies on the index
// finger's side, the next ones on the palm's inside.
func (s *surface) hand(loop []int) {
	w := armWeights(armLength + palmEnd)
	knuckles := make([]int, armSides)
	for i := range knuckles {
		k := i
		inside := 1.0
		if i > armSides/2 {
			k, inside = armSides-i, -1
		}
		u := across[k]
		// The knuckles arch, and bulge over each finger.
		thick := 0.0125 * math.Pow(max(1-math.Pow(u, 4), 0), 0.4)
		arch := 0.010 - 0.012*(u-0.2)*(u-0.2)
		knuckles[i] = s.add(handPoint(palmEnd+0.004+arch, palmHalf*u, inside*thick-0.002), skinTone, w)
	}
	s.strip(loop, knuckles)

	var webs [3]int
	for i := range webs {
		u := across[3+2*i]
		f := fingers[i]
		webs[i] = s.add(handPoint(palmEnd+f.knuckle+0.010, palmHalf*u, 0.001), skinTone, w)
	}
	k := knuckles
	s.finger(fingers[0], []int{k[0], k[1], k[2], k[3], webs[0], k[17], k[18], k[19]}, 0, w)
	s.finger(fingers[1], []int{k[3], k[4], k[5], webs[1], k[15], k[16], k[17], webs[0]}, math.Pi/4, w)
	s.finger(fingers[2], []int{k[5], k[6], k[7], webs[2], k[13], k[14], k[15], webs[1]}, math.Pi/4, w)
	s.finger(fingers[3], []int{k[7], k[8], k[9], k[10], k[11], k[12], k[13], webs[2]}, math.Pi/4, w)
}

// finger grows one finger, bent a little inward as fingers hang.
func (s *surface) finger(f finger, root []int, start float64, w weights) {
	at := handPoint(palmEnd+f.knuckle, palmHalf*f.across, 0)
	along := r3.Unit(r3.Add(armDirection, r3.Scale(f.spread, fore)))
	profile := [][2]float64{ // share of the length, share of the radius
		{0.17, 1.00}, {0.32, 0.93}, {0.44, 1.00}, {0.56, 0.90}, {0.70, 0.92}, {0.84, 0.85}, {0.95, 0.60}, {1, 0},
	}
	var path []r3.Vec
	var radii []float64
	done, bend := 0.0, 0.10
	for _, p := range profile {
		direction := rotate(turn(fore, -bend), along)
		at = r3.Add(at, r3.Scale((p[0]-done)*f.length, direction))
		path, radii = append(path, at), append(radii, p[1]*f.radius)
		done = p[0]
		bend += 0.085
	}
	s.stalk(root, path, radii[:len(radii)-1], fore, start, skinTone, w)
}

// thumb grows the thumb out of an opening on the index finger's side.
func (s *surface) thumb(opening []int) {
	w := armWeights(armLength + palmEnd)
	path := []r3.Vec{
		handPoint(0.041, 0.040, 0.005),
		handPoint(0.053, 0.050, 0.010),
		handPoint(0.064, 0.057, 0.013),
		handPoint(0.075, 0.062, 0.015),
		handPoint(0.086, 0.066, 0.017),
		handPoint(0.094, 0.0685, 0.018),
		handPoint(0.099, 0.070, 0.019),
	}
	radii := []float64{0.0140, 0.0122, 0.0104, 0.0104, 0.0092, 0.0060}
	s.stalk(opening, path, radii, r3.Scale(-1, towardsBody), 0, skinTone, w)
}
