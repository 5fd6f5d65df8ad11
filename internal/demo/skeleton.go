package demo

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// joint is one joint of the skeleton at rest, in the world.
type joint struct {
	name   string
	parent int // index, -1 for the pelvis
	at     r3.Vec
	turn   quat.Number
}

// Joint indices. A left joint is followed by its right twin.
const (
	pelvis = iota
	spine
	chest
	neck
	head
	collarboneL
	collarboneR
	upperArmL
	upperArmR
	forearmL
	forearmR
	handL
	handR
	thighL
	thighR
	shinL
	shinR
	footL
	footR
	toesL
	toesR
	jointCount
)

// armSlope is how far the arms hang out from the vertical at rest.
const armSlope = 40 * degree

// Landmarks of the left side at rest.
var (
	armDirection = r3.Vec{X: math.Sin(armSlope), Y: -math.Cos(armSlope)}
	hip          = r3.Vec{X: 0.055 * Height, Y: hipHeightShare * Height}
	knee         = r3.Vec{X: hip.X, Y: hip.Y - thighLength}
	ankle        = r3.Vec{X: hip.X, Y: knee.Y - shankLength}
	shoulder     = r3.Vec{X: 0.096 * Height, Y: shoulderLevelShare * Height, Z: -0.012}
	elbow        = r3.Add(shoulder, r3.Scale(upperArmLength, armDirection))
	wrist        = r3.Add(elbow, r3.Scale(forearmLength, armDirection))
)

// Hinge axes of the left side, in the world at rest: a positive turn of the
// elbow brings the forearm forward, of the knee the shin backward.
var (
	elbowHinge = r3.Unit(r3.Cross(armDirection, fore))
	kneeHinge  = left
)

// skeleton lists the joints, parents first. Spine, neck, forearms and shins have
// an axis along their bones; collarbones, upper arms, hands, thighs and feet stand
// askew, each its own way, as the drivers of real characters do.
func skeleton() []joint {
	js := make([]joint, jointCount)
	put := func(i int, name string, parent int, at r3.Vec, q quat.Number) {
		js[i] = joint{name, parent, at, q}
	}
	pair := func(i int, name string, parent int, at r3.Vec, q quat.Number) {
		other := parent
		if parent >= collarboneL {
			other++
		}
		put(i, name+"_l", parent, at, q)
		put(i+1, name+"_r", other, mirror(at), mirrorTurn(q))
	}
	level := quat.Number{Real: 1}
	put(pelvis, "pelvis", -1, r3.Vec{Y: 0.556 * Height}, level)
	put(spine, "spine", pelvis, r3.Vec{Y: 0.612 * Height, Z: -0.012}, level)
	put(chest, "chest", spine, r3.Vec{Y: 0.700 * Height, Z: -0.022}, level)
	put(neck, "neck", chest, r3.Vec{Y: 0.848 * Height, Z: -0.024}, turn(left, 12*degree))
	put(head, "head", neck, r3.Vec{Y: 0.900 * Height, Z: -0.006}, level)

	pair(collarboneL, "collarbone", chest, r3.Vec{X: 0.018, Y: 0.822 * Height, Z: 0.012}, turn(up, 25*degree))
	pair(upperArmL, "upper_arm", collarboneL, shoulder, turn(r3.Vec{X: 1, Y: 2, Z: -1}, 50*degree))
	pair(forearmL, "forearm", upperArmL, elbow, turn(fore, math.Pi+armSlope)) // +Y along the bone
	pair(handL, "hand", forearmL, wrist, turn(r3.Vec{X: -1, Y: 1, Z: 3}, 70*degree))

	pair(thighL, "thigh", pelvis, hip, turn(r3.Vec{X: 3, Y: 1, Z: 2}, 35*degree))
	pair(shinL, "shin", thighL, knee, turn(fore, -math.Pi/2)) // +X along the bone
	pair(footL, "foot", shinL, ankle, turn(left, 0.6))
	pair(toesL, "toes", footL, toeBreak, level)
	return js
}

// local gives a joint's translation and rotation in its parent's frame.
func local(js []joint, i int) (r3.Vec, quat.Number) {
	j := js[i]
	if j.parent < 0 {
		return j.at, j.turn
	}
	p := js[j.parent]
	back := quat.Conj(p.turn)
	return rotate(back, r3.Sub(j.at, p.at)), quat.Mul(back, j.turn)
}
