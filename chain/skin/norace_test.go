//go:build !race

package skin

const raceDetector = false
