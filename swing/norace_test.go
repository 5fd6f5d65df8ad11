//go:build !race

package swing_test

const raceDetector = false
