//go:build race

package skin

// raceDetector: under the race detector what else stays on the stack goes to
// the heap, so that allocations cannot be pinned.
const raceDetector = true
