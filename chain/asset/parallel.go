package asset

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// parallel does n pieces of work on as many goroutines as there are cores to run
// them. The pieces must not touch each other's data: then what comes out does not
// depend on how many goroutines there were.
func parallel(n int, do func(piece int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
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
		if fault != nil { // where the caller can recover it
			panic(fault)
		}
	}
}
