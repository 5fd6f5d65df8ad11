// Package skin hands a bone's skin from segment to segment: weights along the
// bone, replacing a joint's influence on a vertex by its segments', and what
// linear blending costs, so that one can plan how many segments are enough.
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
//	k = ceil(T / (2 acos(1-e)))        ([Spans])
//
// and one segment more than spans.
//
// Angles are in radians, weights and losses fractions of one. Nothing in the
// package panics on data; [Basis.Weights] and [Replace] (into a slice with room)
// allocate nothing.
package skin
