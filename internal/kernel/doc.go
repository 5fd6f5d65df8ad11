// Package kernel holds the arithmetic of the limb law: the one place where a
// joint's rotation becomes the axial rotations of its segments.
//
// With the joint's rotation from rest q = (w, v), its unit long axis a and the
// centre direction c of its swing, B = arc(a to c) = (b, beta) carries the
// problem to c: q = arc(c to d) B t gives q B* = arc(c to d) (B t B*), and
// B t B* is the same twist about c. So
//
//	half = atan2(v·h, w b + v·beta)         half the own twist tau
//	alpha_i / 2 = (k_i - 1) tau/2 + m_i sigma/2
//	segment i   = (cos alpha_i/2, sin alpha_i/2 a)
//
// with h the direction half-way from a to c. The field of shortest arcs is c = a, B = 1.
//
// Quaternions are Hamilton and active; angles are radians. Every product that
// a sum takes in is wrapped in float64(), which forbids fused multiply-add
// (Go language specification, "Floating-point operators"), so that a path
// written in another way can be held to the same bits.
package kernel
