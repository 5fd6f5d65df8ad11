// Package rest holds what is fixed while a character stands in its rest pose:
// rigid frames, the offsets through which one joint follows another, the
// rotation hidden in an affine matrix, mirroring from left to right and the
// long axis of a bone. It is also the boundary to mathgl's matrices and
// float32 types.
//
// # Conventions
//
// Right-handed, radians. Quaternions are Hamilton and active, v' = q v q*, and
// a*b applies b first; quat.Number{Real: w, Imag: x, Jmag: y, Kmag: z}. q and
// -q are the same rotation. Matrices act on column vectors and are stored
// column by column, as mathgl and glTF 2.0 store them: m[3*column+row].
//
// # Frames
//
// A [Frame] maps its own coordinates to its parent's, p' = q p q* + t. The zero
// Frame is the identity. A driver rarely has the axes of the joint that follows
// it; the follower is therefore hung on it through the offset the two have at
// rest ([Offset], [Follow]),
//
//	offset = driver_rest⁻¹ · follower_rest
//	follower = driver · offset
//
// and the rest pose does not move.
//
// # Nearest rotation
//
// [Nearest] gives the rotation R that minimises |M - R| in the Frobenius norm,
// equivalently maximises tr(RᵀM), which for a unit quaternion is the quadratic
// form qᵀNq of a symmetric 4x4 matrix N linear in M. q is its dominant
// eigenvector (P. Davenport's q-method, in Wertz 1978, Spacecraft Attitude
// Determination and Control, 12.2.3; Horn 1987, J. Opt. Soc. Am. A 4:629-642;
// both from memory). For a matrix that does not reflect, R is the orthogonal
// factor of the polar decomposition M = R H (Higham 1986, SIAM J. Sci. Stat.
// Comput. 7:1160-1174).
//
// Nothing in this package panics, and apart from errors nothing allocates. NaN
// in gives NaN out.
//
// Every function and method gives the same bits on every processor
// (internal/steady says how). Only a NaN may be another NaN.
package rest
