//go:build race

package swing_test

// raceDetector: under the race detector arithmetic is ten times as slow, and no
// different.
const raceDetector = true
