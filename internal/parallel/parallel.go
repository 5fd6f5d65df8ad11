// Package parallel does pieces of work that do not touch each other's data on
// several goroutines, so that what comes out does not depend on how many there were.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each does n pieces on as many goroutines as there are cores to run them.
func Each(n int, do func(piece int)) { On(runtime.GOMAXPROCS(0), n, do) }

// On does n pieces on up to so many goroutines. A panic in a piece is one of On's,
// so that the caller can recover it; pieces under way are finished first.
func On(workers, n int, do func(piece int)) {
	workers = min(workers, n)
	if workers <= 1 {
		for piece := range n {
			do(piece)
		}
		return
	}
	var next atomic.Int64
	var all sync.WaitGroup
	faults := make([]any, workers)
	for worker := range workers {
		all.Go(func() {
			defer func() { faults[worker] = recover() }()
			for piece := int(next.Add(1)) - 1; piece < n; piece = int(next.Add(1)) - 1 {
				do(piece)
			}
		})
	}
	all.Wait()
	for _, fault := range faults {
		if fault != nil {
			panic(fault)
		}
	}
}
