// Package sweep moves a joint over its range of motion and measures, from what
// its solver answers, how the segments roll.
//
//	motion := sweep.Hip(down, forward, out)
//	figures, err := sweep.Compare(motion, sweep.Options{})
//
// A [Motion] is the range: flexion, abduction and the bone's own rotation.
// [Swings] reads the field of swings off a solver and measures its roll at a
// direction; [Motion.Map] takes any measure over the range; [Flips] finds where
// segments jump; [Compare] sets the four fields side by side.
//
// # Roll
//
// With the axis a carried to d by the swing S(d), moving from d0 to a near d1
// rolls the swing by the angle about d1 of
//
//	S(d1) · conj(arc(d0 to d1) · S(d0))
//
// beyond the shortest turn from d0 to d1, which does not roll. A radian of
// motion along the unit direction u across d rolls it by A·u radians; A is the
// roll's vector, across d too. Its length is the roll rate: the roll of a radian
// of motion in the direction that rolls most. The shortest arc's rate is
// tan(theta/2) at the angle theta from rest, and A points against increasing
// azimuth, counted right-handed about a (derived: S = R_a(phi) R_b(theta)
// R_a(-phi) turns by phi' (a - d), b at right angles to a).
//
// No field is free of roll: round any closed path in which the field is defined
// throughout, the rolls add up to minus the solid angle that the path encloses
// on its left. So by Stokes' theorem the rate on a region's edge is at least
// area/perimeter on average, whatever the field.
//
// # Frames, units, signs
//
// Right-handed; radians; quaternions are Hamilton and active, quat.Number{Real:
// w, Imag: x, Jmag: y, Kmag: z}; a*b applies b first. A motion's directions are
// given in the frame of the rotations: the joint's rest frame, which for a limb
// without rest frames is also its anchor's. q and -q are the same rotation.
//
// Ranges of motion differ by 5 to 20 degrees between published sets. They bound
// animation; they are no clinical advice.
package sweep
