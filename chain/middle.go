package chain

import (
	"math"
	"sync"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// Middle is the direction from which the farthest direction of the range is
// nearest: the centre of the smallest cap that holds it, to 0.05 degrees. A
// swing by way of it has the lowest worst roll, tan(radius/2), that one centre
// can give.
//
// A range of more than half the sphere, such as a shoulder's, has several
// places where small steps bring no gain. So the search looks all over the
// sphere first, then closes in from the best place by ever smaller steps.
func (r Range) Middle() r3.Vec {
	// In coordinates along the body's own directions left and right are the
	// same problem, and so mirror images to the last bit.
	own := Range{Flexion: r.Flexion, Abduction: r.Abduction, Down: r3.Vec{X: 1}, Forward: r3.Vec{Y: 1}, Out: r3.Vec{Z: 1}}
	m := middles.of(own)
	return steady.Along(m.X, r.Down, m.Y, r.Forward, m.Z, r.Out)
}

// middles are those found already: every thigh of every character has the same.
// Few programs see more than a handful of ranges; what goes past the limit is found
// anew.
var middles rememberedMiddles

type rememberedMiddles struct {
	sync.Mutex
	found map[[2][2]float64]r3.Vec
}

func (m *rememberedMiddles) of(own Range) r3.Vec {
	key := [2][2]float64{own.Flexion, own.Abduction}
	m.Lock()
	defer m.Unlock()
	middle, ok := m.found[key]
	if ok {
		return middle
	}
	middle = own.middle()
	if m.found == nil {
		m.found = map[[2][2]float64]r3.Vec{}
	}
	if len(m.found) < mostSolved {
		m.found[key] = middle
	}
	return middle
}

// middle is Middle for the directions X, Y and Z.
func (r Range) middle() r3.Vec {
	const (
		coarse, fine = 10 * degree, 4 * degree // grids of the range
		places       = 1000                    // over the sphere: one every 6 degrees
		smallest     = 0.01 * degree           // step
	)
	grid := r.grid(coarse)
	best, bestWorst := r3.Vec{}, -2.
	for i := range places {
		// A spiral with steps of equal area and the golden angle between them.
		y := 1 - float64((2*float64(i)+1)/places)
		around, radius := float64(i)*math.Pi*(3-math.Sqrt(5)), math.Sqrt(1-float64(y*y))
		sin, cos := steady.Sincos(around)
		place := r3.Vec{X: radius * cos, Y: radius * sin, Z: y}
		if w := nearestTo(grid, place, bestWorst); w > bestWorst {
			best, bestWorst = place, w
		}
	}
	grid = r.grid(fine)
	bestWorst = nearestTo(grid, best, -2)
	turned := 0.
	for step := 6 * degree; step > smallest; {
		moved := false
		u, v := across(best)
		for i := range 12 {
			sin, cos := steady.Sincos(turned + float64(float64(i)*math.Pi/6))
			place, _ := steady.Unit(steady.Along(1, best, step*cos, u, step*sin, v))
			if w := nearestTo(grid, place, bestWorst); w > bestWorst {
				best, bestWorst, moved = place, w, true
			}
		}
		turned += 0.37 // other directions next time: the best may lie along a ridge
		if !moved {
			step *= 0.7
		}
	}
	return best
}

// nearestTo returns the least cosine between a place and the directions of the
// grid, or something below floor as soon as it is known to be below it.
func nearestTo(grid []r3.Vec, place r3.Vec, floor float64) float64 {
	least := 1.
	for _, p := range grid {
		if d := steady.Dot(place, p); d < least {
			if least = d; least < floor {
				break
			}
		}
	}
	return least
}

// across returns two unit directions at right angles to d and to each other.
func across(d r3.Vec) (u, v r3.Vec) {
	u = steady.Cross(d, r3.Vec{X: 1})
	if steady.Norm2(u) < 0.5 {
		u = steady.Cross(d, r3.Vec{Z: 1})
	}
	u, _ = steady.Unit(u)
	return u, steady.Cross(d, u)
}

// grid samples the range, its edge included.
func (r Range) grid(step float64) []r3.Vec {
	flexions := math.Ceil((r.Flexion[1] - r.Flexion[0]) / step)
	abductions := math.Ceil((r.Abduction[1] - r.Abduction[0]) / step)
	var out []r3.Vec
	for i := 0.; i <= flexions; i++ {
		for j := 0.; j <= abductions; j++ {
			out = append(out, r.Direction(
				r.Flexion[0]+float64(i/max(flexions, 1)*(r.Flexion[1]-r.Flexion[0])),
				r.Abduction[0]+float64(j/max(abductions, 1)*(r.Abduction[1]-r.Abduction[0]))))
		}
	}
	return out
}
