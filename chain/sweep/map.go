package sweep

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
)

// Place is a place of a range of motion, in radians.
type Place struct{ Flexion, Abduction float64 }

// Map is a measure over a grid of a range of motion.
type Map struct {
	Flexion, Abduction []float64 // the grid's lines, radians, ascending, the range's edges included

	// Values holds the measure at flexion i and abduction j as element
	// i*len(Abduction)+j; NaN where it is undefined.
	Values []float64

	Worst   float64 // the greatest value; NaN if none is defined
	WorstAt Place   // where: the first such place

	// RMS is the root mean square over the range's area on the sphere:
	// by Simpson's rules, with the weight cos(abduction). Undefined places
	// do not count.
	RMS float64

	Undefined []Place // where the measure is NaN
}

// MinStep is the finest grid of a sweep, in radians (0.1 degrees): a shoulder
// has some three million places then.
const MinStep = 0.1 * degree

// Map takes a measure over the range, which gives NaN where it is undefined. The
// step is the greatest distance of neighbouring lines, in radians; 0 means one
// degree.
//
// It is an error if the step is neither 0 nor within [MinStep] and half a turn, or if
// the range's limits are out of order or go beyond half a turn in flexion or a
// quarter turn in abduction.
func (m Motion) Map(step float64, measure func(flexion, abduction float64) float64) (Map, error) {
	flexion, abduction, err := grid(m.Range, step)
	if err != nil {
		return Map{}, err
	}
	out := Map{
		Flexion: flexion, Abduction: abduction,
		Values: make([]float64, 0, len(flexion)*len(abduction)),
		Worst:  math.NaN(),
	}
	inFlexion, inAbduction := simpson(len(flexion)), simpson(len(abduction))
	var squares, weights float64
	for i, f := range flexion {
		for j, b := range abduction {
			value := measure(f, b)
			out.Values = append(out.Values, value)
			if math.IsNaN(value) {
				out.Undefined = append(out.Undefined, Place{f, b})
				continue
			}
			if !(value <= out.Worst) {
				out.Worst, out.WorstAt = value, Place{f, b}
			}
			weight := inFlexion[i] * inAbduction[j] * math.Cos(b)
			squares += weight * value * value
			weights += weight
		}
	}
	out.RMS = math.Sqrt(squares / weights)
	return out, nil
}

// At is the value at the grid's flexion i and abduction j.
func (m Map) At(i, j int) float64 { return m.Values[i*len(m.Abduction)+j] }

// simpson is the nodes' weights by Simpson's rule, and by his rule of three eighths for
// the last three intervals of an odd number: exact for cubics, where the trapezium
// rule takes the root mean square of a roll that is zero in the middle of a thin
// range, and so its square a parabola, for a quarter too much (Abramowitz and
// Stegun, 25.4.5 and 25.4.13).
func simpson(n int) []float64 {
	weights := make([]float64, n)
	if n < 3 {
		for i := range weights {
			weights[i] = 1
		}
		return weights
	}
	last := n - 1
	if last%2 != 0 {
		for i, w := range [4]float64{3. / 8, 9. / 8, 9. / 8, 3. / 8} {
			weights[last-3+i] += w
		}
		last -= 3
	}
	for i := 0; i+2 <= last; i += 2 {
		weights[i] += 1. / 3
		weights[i+1] += 4. / 3
		weights[i+2] += 1. / 3
	}
	return weights
}

// grid returns the lines of a grid over the range.
func grid(r chain.Range, step float64) (flexion, abduction []float64, err error) {
	if step == 0 {
		step = degree
	}
	if !(step >= MinStep*(1-1e-12) && step <= math.Pi) {
		return nil, nil, fmt.Errorf("sweep: step is %g, expected %.4f to %.4f radians", step, MinStep, math.Pi)
	}
	if flexion, err = lines("flexion", r.Flexion, math.Pi, step); err != nil {
		return nil, nil, err
	}
	abduction, err = lines("abduction", r.Abduction, math.Pi/2, step)
	return flexion, abduction, err
}

// lines divides the limits evenly, both included.
func lines(name string, limits [2]float64, most, step float64) ([]float64, error) {
	if !(limits[0] <= limits[1] && limits[0] >= -most && limits[1] <= most) {
		return nil, fmt.Errorf("sweep: %s is [%g, %g], expected least before greatest, within %.4f either way", name, limits[0], limits[1], most)
	}
	// Limits that are whole steps apart but for rounding get no extra line.
	n := int(math.Ceil((limits[1]-limits[0])/step - 1e-9))
	if n == 1 { // in thin ranges the middle counts
		n = 2
	}
	out := make([]float64, n+1)
	for i := range out {
		out[i] = limits[0] + float64(i)/float64(max(n, 1))*(limits[1]-limits[0])
	}
	out[n] = limits[1]
	return out, nil
}
