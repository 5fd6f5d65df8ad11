// Package skin hands a bone's skin from segment to segment: weights along the
// bone, replacing a joint's influence on a vertex by its segments', and what
// linear blending costs, so that one can plan how many segments are enough. It
// also skins meshes and measures what has become of a limb.
//
// # Weights along the bone
//
// A bone split into n segments has its nodes at u_i = i/(n-1), u running from 0
// at the joint to 1 at the bone's end. The weight of segment i at u is a
// uniform B-spline centred on its node (Piegl & Tiller 1997, The NURBS Book,
// from memory). Past either end there is no segment; the weight of the missing
// node there is handed back by continuing its neighbours in a straight line,
// c_-1 = 2 c_0 - c_1. See [Basis] for what that keeps.
//
// # What linear blending loses
//
// Where two segments with the relative twist d about the bone blend with the
// weights 1-w and w, linear-blend skinning shrinks the section to
//
//	sqrt(1 - 4 w (1-w) sin²(d/2))
//
// of its radius, cos(d/2) at the worst ([RadiusFactor]). The effect has been
// known since linear blending is in use: Magnenat-Thalmann, Laperrière &
// Thalmann 1988; Lewis, Cordner & Fong 2000 (by way of Kavan 2014, SIGGRAPH
// course on skinning). A twist T shared out evenly over k spans between
// segments blends d = T/k at a time; for at most the loss e,
//
//	k = ceil(T / (2 acos(1-e)))
//
// and one segment more than spans ([Spans], [Segments], [Plan]).
//
// # Skinning
//
// A [Mesh] is skinned by [Linear] blending of affine matrices or by blending
// rigid motions as dual quaternions ([DualQuaternion]); [Rigid] makes those
// motions of matrices.
// Either is given what each joint did since rest, its world matrix times its
// inverse bind matrix.
//
// # Measures
//
// All are taken against the mesh at rest, where limbs are cut and marked once
// and then followed to any number of poses:
//
//   - [Sections]: radius, area and turn of cuts across the bone, and from the
//     turns the twist of the skin along it ([TwistDensity]);
//   - [Volume]: that of a limb between two places along its bone;
//   - [Strains] and [EdgeStretches]: how triangles are stretched, pressed and
//     sheared;
//   - [Fold]: how deep the two sides of a hinge lie in one another.
//
// Which triangles are a limb's, or one side's, say marks, one bool a triangle
// ([Mesh.TrianglesOf], [Mesh.Sides]). Vertices at the same place at rest are one
// place, so that a texture's seams do not cut a limb.
//
// # Conventions
//
// Angles are in radians, lengths in metres, weights and losses fractions of one.
// Nothing in the package panics on data, only where a posed mesh has not as many
// vertices as the mesh at rest. What fills a slice overwrites the one it is
// given, grown if need be, and returns it; with room in it nothing is allocated.
package skin
