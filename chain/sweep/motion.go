package sweep

import (
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

const degree = math.Pi / 180

// Motion is a joint's range of motion: where its bone may point, and how far it
// may turn about itself there.
type Motion struct {
	chain.Range // flexion and abduction, and the body's directions

	// Rotation is the limits of the bone's own rotation in radians, least
	// (external is negative) and greatest (internal). Internal rotation turns
	// the front of a hanging limb, its Forward side, towards the body's middle,
	// away from Out.
	Rotation [2]float64
}

// Limits of own rotation: AAOS mean values (American Academy of Orthopaedic
// Surgeons, as tabulated in goniometry handbooks; the hip's from memory). A
// wrist has none: pronation is the forearm's.
var (
	hipRotation      = [2]float64{-45 * degree, 45 * degree}
	shoulderRotation = [2]float64{-90 * degree, 70 * degree}
)

// Hip is the motion of a hip whose body has these directions, as of [chain.Hip],
// with a rotation of 45 degrees either way (AAOS mean values, from memory).
func Hip(down, forward, out r3.Vec) Motion {
	return Motion{Range: chain.Hip(down, forward, out), Rotation: hipRotation}
}

// Shoulder is the motion of a shoulder, as of [chain.Shoulder], with a rotation
// from 90 degrees external to 70 internal (AAOS mean values).
func Shoulder(down, forward, out r3.Vec) Motion {
	return Motion{Range: chain.Shoulder(down, forward, out), Rotation: shoulderRotation}
}

// Wrist is the motion of a wrist, as of [chain.Wrist], with no rotation: that is
// the forearm's.
func Wrist(down, forward, out r3.Vec) Motion {
	return Motion{Range: chain.Wrist(down, forward, out)}
}

// Pose is the joint's rotation from the pose in which its bone hangs along
// Down: first its own rotation, then abduction, then flexion. It carries Down to
// Direction(flexion, abduction) and is the identity at zeros.
//
// At an abduction of a quarter turn either way the bone points along Out,
// flexion turns it about itself, and only the sum or the difference of flexion
// and rotation shows.
func (m Motion) Pose(flexion, abduction, rotation float64) quat.Number {
	return m.FromISB(FromGroodSuntay(m.GroodSuntay(flexion, abduction, rotation)))
}

// AnglesOf reads the angles off a pose: it undoes [Motion.Pose]. Abduction lies within a
// quarter turn; flexion and rotation are known up to whole turns, so flexion is
// the one nearest to the range's middle, and rotation within half a turn. It
// returns false for an abduction of a quarter turn, where the rotation is taken
// to be zero, for a zero rotation, and with NaN for NaN or Inf.
func (m Motion) AnglesOf(pose quat.Number) (flexion, abduction, rotation float64, determined bool) {
	flexion, beta, gamma, determined := GroodSuntay(m.ToISB(pose))
	middle := (m.Flexion[0] + m.Flexion[1]) / 2
	flexion = middle + math.Remainder(flexion-middle, 2*math.Pi)
	side := m.side()
	return flexion, -side * beta, side * gamma, determined
}

// GroodSuntay is the pose's angles as [GroodSuntay] counts them. Flexion is
// alpha. A right limb, with Out to the body's right, has the abduction -beta
// (adduction counts) and the internal rotation gamma; a left limb, seen in the
// mirror, abduction beta and internal rotation -gamma.
func (m Motion) GroodSuntay(flexion, abduction, rotation float64) (alpha, beta, gamma float64) {
	side := m.side()
	return flexion, -side * abduction, side * rotation
}

// side is 1 for a limb on the body's right and -1 for one on its left.
func (m Motion) side() float64 {
	return math.Copysign(1, r3.Dot(m.Out, r3.Cross(m.Down, m.Forward)))
}

// ToISB gives a rotation by the ISB's axes of the body: X = Forward, Y against
// Down, Z to the right. [Motion.FromISB] undoes it.
func (m Motion) ToISB(q quat.Number) quat.Number {
	v := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	return quat.Number{
		Real: q.Real,
		Imag: r3.Dot(v, m.Forward), Jmag: -r3.Dot(v, m.Down), Kmag: r3.Dot(v, r3.Cross(m.Down, m.Forward)),
	}
}

// FromISB takes a rotation by the ISB's axes of the body to the motion's frame.
func (m Motion) FromISB(q quat.Number) quat.Number {
	v := r3.Add(r3.Scale(q.Imag, m.Forward), r3.Add(r3.Scale(-q.Jmag, m.Down), r3.Scale(q.Kmag, r3.Cross(m.Down, m.Forward))))
	return quat.Number{Real: q.Real, Imag: v.X, Jmag: v.Y, Kmag: v.Z}
}
