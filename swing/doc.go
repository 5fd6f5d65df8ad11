// Package swing makes rotations that carry a direction to a direction: the
// shortest arc, a frame aimed at a target, fields of swings for a joint, and the
// transport of a reference direction along a path.
//
// [Arc] and [Aim] are for one direction or one frame. For a joint with a known range,
// describe the range ([LonLat], [Cap], [Polygon]) and solve once for its [Balanced]
// field, which stays close to the shortest arc from rest, so that skin at the root of a
// limb is twisted little, and rolls little where that arc is ill-defined; or for its
// [LeastRoll] field, which only rolls little. [Field.Swing] then answers for any
// direction.
//
// # Conventions
//
// Quaternions are Hamilton's and active: v' = q v q*, and the product a*b
// applies b first. The frame is right-handed, angles are radians, and the
// components of a quat.Number are Real w, Imag x, Jmag y, Kmag z. q and -q are
// the same rotation; each function says which of the two it returns.
//
// # The roll of the shortest arc
//
// With a fixed, Arc(a, d) makes a frame at every direction d. No such field of
// frames is free of roll: moved sideways at an angle θ from a it rolls about d
// by tan(θ/2) radians a radian, 1 at a right angle and without bound at half a
// turn, because a loop of directions turns the frame by the solid angle it
// encloses. [Centred] moves the bad point from -a to the far side of a
// direction c in the middle of a joint's range: its rate is tan(∠(c,d)/2). A
// [Field] is any of these, and [LeastRoll] makes the one that rolls least over a
// [Region] of directions, in the mean square: no field can roll by less than the
// region's area over its perimeter, on average along its edge.
//
// # Ranges
//
// The functions are total: no error, no panic. Directions and rotations of any
// finite non-zero length will do, down to subnormals and up to the largest
// float64; they are normalised inside. A second result of false says that the
// rotation is not determined by the inputs. NaN or Inf gives NaN and false.
//
// # The same bits everywhere
//
// Every function and method of this package gives the same bits on every
// processor, fields and their files included (internal/steady says how). Only a
// NaN may be another NaN.
package swing
