package chain

import (
	"math"

	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Range is a joint's range of motion, as limits of the direction its bone
// takes. Angles are radians; a limb at flexion 0 and abduction 0 points along
// Down.
//
// Flexion turns the bone from Down towards Forward, in the body's middle
// plane; abduction then lifts it out of that plane towards Out, as latitude
// does (abduction and flexion are the projection angles that goniometry
// reads):
//
//	direction = cos b (cos f Down + sin f Forward) + sin b Out
//
// The zero value is no range at all.
type Range struct {
	Flexion   [2]float64 // least (extension is negative) and greatest
	Abduction [2]float64 // least (adduction is negative) and greatest

	// The body's directions in the anchor's frame at rest, each of length 1
	// and at right angles: where the limb hangs, where the body faces, and
	// away from the body's middle on this limb's side.
	Down, Forward, Out r3.Vec
}

// Limits of motion as goniometry publishes them, without directions: AAOS mean
// values (American Academy of Orthopaedic Surgeons, as tabulated in goniometry
// handbooks; hip from memory). Published sets differ by 5 to 20 degrees. They
// bound animation; they are no clinical advice.
//
// A wrist flexes to the palm and abducts to the thumb (radial deviation), 20
// degrees, and 30 to the little finger.
//
// At the shoulder abduction past 90 degrees is the same direction as flexion
// past 90, so it ends there; adduction across the chest, 30 degrees, is common
// practice, no source.
var (
	hipLimits      = [2][2]float64{{-30 * degree, 120 * degree}, {-30 * degree, 45 * degree}}
	shoulderLimits = [2][2]float64{{-60 * degree, 180 * degree}, {-30 * degree, 90 * degree}}
	wristLimits    = [2][2]float64{{-70 * degree, 80 * degree}, {-30 * degree, 20 * degree}}
)

const degree = math.Pi / 180

// Hip returns the range of a hip whose body has these directions: flexion -30 to
// 120 degrees, abduction -30 to 45 (AAOS mean values, from memory). They bound
// animation; they are no clinical advice.
func Hip(down, forward, out r3.Vec) Range { return rangeOf(hipLimits, down, forward, out) }

// Shoulder returns the range of a shoulder whose body has these directions:
// flexion -60 to 180 degrees, abduction -30 to 90 (AAOS mean values; adduction is
// common practice, no source). Abduction past 90 is flexion past 90.
func Shoulder(down, forward, out r3.Vec) Range { return rangeOf(shoulderLimits, down, forward, out) }

// Wrist returns the range of a wrist: down is where the fingers point at rest,
// forward where the palm faces, out where the thumb is. It flexes by -70 to 80
// degrees and abducts, to the thumb, by -30 to 20 (AAOS mean values).
func Wrist(down, forward, out r3.Vec) Range { return rangeOf(wristLimits, down, forward, out) }

func rangeOf(limits [2][2]float64, down, forward, out r3.Vec) Range {
	return Range{Flexion: limits[0], Abduction: limits[1], Down: down, Forward: forward, Out: out}
}

// IsZero reports whether there is no range.
func (r Range) IsZero() bool { return r == Range{} }

// Direction is where the bone points at the given flexion and abduction.
func (r Range) Direction(flexion, abduction float64) r3.Vec {
	sinF, cosF := steady.Sincos(flexion)
	sinB, cosB := steady.Sincos(abduction)
	return steady.Along(cosB*cosF, r.Down, cosB*sinF, r.Forward, sinB, r.Out)
}

// Angles are the flexion and abduction at which the bone points along a
// direction: abduction within a quarter turn, and of the flexions, which a whole
// turn leaves as they are, the one nearest to the range's middle.
func (r Range) Angles(direction r3.Vec) (flexion, abduction float64) {
	d, f, o := steady.Dot(direction, r.Down), steady.Dot(direction, r.Forward), steady.Dot(direction, r.Out)
	middle := float64((r.Flexion[0] + r.Flexion[1]) / 2)
	flexion = middle + math.Remainder(steady.Atan2(f, d)-middle, 2*math.Pi)
	return flexion, steady.Atan2(o, steady.Hypot(d, f))
}

// Beyond is how far outside the range a direction points, in radians: the angle
// to the nearest direction of the range, and 0 inside.
//
// Beside the range, within its flexions, that is how much the abduction is over:
// latitudes are never nearer to each other. Elsewhere the nearest direction has
// the least or the greatest flexion, for along a circle of one abduction the angle
// grows with the difference in flexion.
func (r Range) Beyond(direction r3.Vec) float64 {
	flexion, abduction := r.Angles(direction)
	if flexion >= r.Flexion[0] && flexion <= r.Flexion[1] {
		return max(r.Abduction[0]-abduction, abduction-r.Abduction[1], 0)
	}
	return min(r.toMeridian(direction, r.Flexion[0]), r.toMeridian(direction, r.Flexion[1]))
}

// toMeridian is the angle between a direction and the range's arc of one flexion:
// that to the foot of its perpendicular, or to the nearer end of the arc.
func (r Range) toMeridian(direction r3.Vec, flexion float64) float64 {
	sin, cos := steady.Sincos(flexion)
	d, f, out := steady.Dot(direction, r.Down), steady.Dot(direction, r.Forward), steady.Dot(direction, r.Out)
	along, aside := float64(cos*d)+float64(sin*f), float64(cos*f)-float64(sin*d)
	foot, past := steady.Atan2(out, along), 0. // past: how far the arc's end is from the foot
	if foot < r.Abduction[0] || foot > r.Abduction[1] {
		past = min(math.Abs(math.Remainder(foot-r.Abduction[0], 2*math.Pi)), math.Abs(math.Remainder(foot-r.Abduction[1], 2*math.Pi)))
	}
	inPlane := steady.Hypot(along, out)
	sin, cos = steady.Sincos(past)
	return steady.Atan2(steady.Hypot(aside, inPlane*sin), inPlane*cos)
}

// Region is the range as a region of the sphere of directions.
func (r Range) Region() (swing.Region, error) {
	return swing.LonLat(r.Down, r.Forward, r.Out, r.Flexion, r.Abduction)
}

// turned is the range in a frame that q turns its own to.
func (r Range) turned(q quat.Number) Range {
	r.Down, r.Forward, r.Out = rotate(q, r.Down), rotate(q, r.Forward), rotate(q, r.Out)
	return r
}

// check says what is wrong with the range of limb l.
func (r Range) check(l *Limb) error {
	for _, field := range []struct {
		name   string
		limits [2]float64
		most   float64
		within string
	}{{"flexion", r.Flexion, math.Pi, "half a turn"}, {"abduction", r.Abduction, math.Pi / 2, "a quarter turn"}} {
		if !(field.limits[0] <= field.limits[1] && field.limits[0] >= -field.most && field.limits[1] <= field.most) {
			return l.errorf("range: %s is [%g, %g], expected least before greatest, within %s either way", field.name, field.limits[0], field.limits[1], field.within)
		}
	}
	// A frame handed over in float32 is square to 1e-7 and some rounding.
	const square = 1e-6
	d, f, o := r.Down, r.Forward, r.Out
	for _, defect := range []float64{steady.Norm2(d) - 1, steady.Norm2(f) - 1, steady.Norm2(o) - 1, steady.Dot(d, f), steady.Dot(f, o), steady.Dot(o, d)} {
		if !(math.Abs(defect) <= square) {
			return l.errorf("range: down %v, forward %v, out %v are not unit directions at right angles", d, f, o)
		}
	}
	return nil
}
