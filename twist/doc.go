// Package twist measures and makes rotations about one axis: how much of a
// joint's rotation is twist about the long axis of its bone, and how much is
// swing of that axis.
//
// [Angle] measures a twist, [About] makes one, and [Split] takes a rotation apart.
// [Linear] and [Smooth] share a twist out along a bone. [Unwrap] makes the angles
// of a clip continuous.
//
// # Conventions
//
// Quaternions are Hamilton's and active: v' = q v q*, and the product a*b
// applies b first. The frame is right-handed, angles are radians, and the
// components of a quat.Number are Real w, Imag x, Jmag y, Kmag z. q and -q are
// the same rotation; every function that takes a rotation gives the same bits
// for both.
//
// # The split
//
// Let a be the unit axis, v the vector part of the unit quaternion q,
// p = v·a and n = sqrt(w² + p²). Then
//
//	twist     t = (w + p a)/n            about a, by 2 atan2(p, w)
//	swing     s = q t*                   the shortest rotation that carries a to q a
//	condition n = cos(half the swing)    how well the twist is determined
//
// so q = s t: twist first, then swing. Where n is 0, a swing of half a turn,
// every twist would do and none is measured; the functions say so with a
// second result of false and never with a wild value. An angle is known to
// about [MaxAngleError]/n.
//
// The split is that of Dobrowolski, "Swing-twist decomposition in Clifford
// algebra", 2015, arXiv:1506.05481.
//
// # Ranges
//
// The functions are total: no error, no panic. Rotations and axes of any
// finite non-zero length will do, down to subnormals and up to the largest
// float64; they are normalised inside. NaN or Inf gives NaN and false.
//
// From one kind of processor to another results may differ in their last bits,
// within the bounds stated: package math does, and products and sums may be fused.
// Packages swing, rest and chain say what they keep the same on all.
package twist
