package main

import (
	"math"
	"testing"
	"time"
)

// A contender is a way to do a task in this process.
type contender struct {
	task      task
	name      string
	precision precision
	pass      func()           // solves all the data once
	answers   func() []float64 // what the last pass wrote: x, y, z, w, rotation after rotation; nil where there is no exact answer
}

// contenders is every list of them; a new one is a function and a line here.
var contenders = []func(*data) ([]contender, error){ours, batches, gonums, mathgl64s, mathgl32s}

// Each sweep over all rows times each of them for some rounds, and the fastest
// round of all sweeps counts: what disturbs a machine only ever slows it down.
// The sweeps keep a slow minute from hitting the same rows each time. The
// peers' programs do rounds of the same length.
const (
	rounds       = 3
	roundSeconds = 0.1
)

// measure is the fastest round's time of a limb in nanoseconds.
func (c *contender) measure() float64 {
	least := math.Inf(1)
	for passes, round := 1, 0; round < rounds; {
		begin := time.Now()
		for range passes {
			c.pass()
		}
		took := time.Since(begin).Seconds()
		switch {
		case took < roundSeconds/10:
			passes *= 10
		case took < roundSeconds:
			passes = int(float64(passes)*1.2*roundSeconds/took) + 1
		default:
			least = min(least, took/float64(passes))
			round++
		}
	}
	return least * 1e9 / limbs
}

// allocations is how many a limb costs.
func (c *contender) allocations() float64 { return testing.AllocsPerRun(3, c.pass) / limbs }
