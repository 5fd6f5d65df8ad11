// Package chain turns the rotation of a joint into the rotations of the deform
// segments its bone is split into.
//
// A [Limb] is the specification: the long axis, how many segments, which twist
// is ramped along them and how. [NewSolver] checks it and prepares a [Solver],
// which is read only, safe for concurrent use, and allocates nothing when it
// solves. [Solver.Solve] takes one joint's rotation, [Batch.Solve] many.
//
// # The law
//
// Let q be the joint's rotation from rest, a the bone's long axis, both in the
// joint's rest frame. q splits into q = s t: first the twist t about a by the
// angle tau, then the swing s. Segment i keeps the share k_i of that twist and
// takes the share m_i of the twist sigma of a joint at the bone's tip:
//
//	segment i = s · rot(a, k_i tau + m_i sigma)
//
// Below the joint in a hierarchy s t is the joint itself, so segment i turns
// in the joint's frame about the long axis alone, by
//
//	alpha_i = (k_i - 1) tau + m_i sigma
//
// A thigh or an upper arm ramps its own twist (k from 0 at the torso to 1 at
// the knee or elbow, m = 0); a forearm keeps its own twist whole and ramps the
// hand's (k = 1, m from 0 at the elbow to 1 at the wrist).
//
// The swing s is that of a field (see [Field] and package swing): the shortest
// arc; the shortest arc by way of a centre direction c in the middle of the
// joint's range (see [Range]); the one that rolls least over that range; or the
// balanced one, close to the shortest arc where that is well defined. Each depends on the pose alone and is the identity at rest. The shortest arc rolls
// tan(angle(a, d)/2) radians per radian of sideways sway, d = q a; by way of c it
// is tan(angle(c, d)/2).
//
// # The same bits everywhere
//
// Given the same [Limb] to the last bit, every processor prepares the same
// [Solver] to the last bit, and the same rotations give the same segments: [NewSolver]
// and all that it takes, [Range] with every method of its own, [Solver.Solve],
// [Solver.Angles], [Solver.SolveFromRest], [Solver.FromRest] and
// [Solver.SolveWorld], [Batch] in either precision, and [Aim]. Only a NaN may be
// another NaN. What stands beside the law makes no such promise.
//
// # Beside the law
//
// A [Stretcher] shares out a change of the bone's length, a [Creaser] eases the
// two sides of a closed hinge apart, and a [Hinge] measures how far a knee or an
// elbow turns off its axis.
//
// # Conventions
//
// Right-handed; radians; quaternions are Hamilton and active, quat.Number{Real:
// w, Imag: x, Jmag: y, Kmag: z}; a*b applies b first. q and -q are the same
// rotation. Rotations handed in may have any finite non-zero length; those
// handed out are unit to 4e-15 per component and have a real part >= 0 where
// they are axial. NaN in gives NaN out.
//
// Source of the swing-twist split: Dobrowolski 2015, arXiv:1506.05481.
package chain
