package skin

import "math"

// RadiusFactor is what linear blending leaves of a section's radius where two
// frames with the relative twist angle (radians) blend with the weights 1-w
// and w: sqrt(1 - 4w(1-w) sin²(angle/2)). 1 where only one of the two has
// weight, cos(angle/2) half way. w is clamped to [0, 1]; NaN and infinite
// angles give NaN. Right to 4 eps of itself, however small.
func RadiusFactor(w, angle float64) float64 {
	w = min(max(w, 0), 1)
	// The same sum as squares: cos² + (1-2w)² sin², without the cancellation.
	sin, cos := math.Sincos(angle / 2)
	return math.Hypot(cos, (1-2*w)*sin)
}

// VolumeFactor is what linear blending leaves of a tube's volume where the
// twist angle (radians) is handed from one frame to the other with weights
// that are linear along the tube: 1 - (2/3) sin²(angle/2), the mean square of
// [RadiusFactor]. NaN and infinite angles give NaN.
func VolumeFactor(angle float64) float64 {
	sin := math.Sin(angle / 2)
	return 1 - float64(sin*sin)*2/3
}

// SectionAngle is the angle (radians) a section turns to where a frame at rest
// and one twisted by angle blend linearly with the weights 1-w and w: atan2(w
// sin(angle), 1 - w + w cos(angle)), in (-pi, pi]. It runs ahead of w·angle in
// the second half and behind it in the first, and at angle = pi it jumps half
// way. w is clamped to [0, 1]; NaN and infinite angles give NaN.
func SectionAngle(w, angle float64) float64 {
	w = min(max(w, 0), 1)
	sin, cos := math.Sincos(angle)
	return math.Atan2(float64(w*sin), 1-w+float64(w*cos))
}
