package demo

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Names of the clips.
const (
	OverheadReach = "overhead reach"
	HighStep      = "high step"
	ForearmWring  = "forearm wring"
	LimberUp      = "limber up"
)

// keyRate is the number of keys in a second.
const keyRate = 30

type clip struct {
	name    string
	seconds float64
	at      func(t float64) pose // t from 0 to 1
}

func clips() []clip {
	return []clip{
		{OverheadReach, 3, overheadReach},
		{HighStep, 3, highStep},
		{ForearmWring, 4, forearmWring},
		{LimberUp, 4, limberUp},
	}
}

// thereAndBack rises from 0 to 1 over the first share of the clip, holds, and
// comes back, with level ends.
func thereAndBack(t, rise, fall float64) float64 {
	return smoothStep(0, rise, t) * (1 - smoothStep(fall, 1, t))
}

// Turns of the left side; a right one is the mirror image.

// armTurn twists the arm about its own length, positive outward, lets it hang
// (by armSlope it hangs straight), raises it by flexion in a plane turned outward
// by yaw from straight ahead, and leans it outward.
func armTurn(twist, hang, flexion, yaw, lean float64) quat.Number {
	q := turn(armDirection, -twist)
	q = quat.Mul(turn(fore, -hang), q)
	q = quat.Mul(turn(left, -flexion), q)
	q = quat.Mul(turn(up, yaw), q)
	return quat.Mul(turn(fore, -lean), q)
}

// thighTurn flexes the hip, sways it outward and rotates it, positive outward.
func thighTurn(flexion, abduction, outward float64) quat.Number {
	q := turn(r3.Vec{Y: 1}, outward)
	q = quat.Mul(turn(left, -flexion), q)
	return quat.Mul(turn(up, abduction), q)
}

func elbowTurn(flexion float64) quat.Number { return turn(elbowHinge, flexion) }
func kneeTurn(flexion float64) quat.Number  { return turn(kneeHinge, flexion) }

// relaxed is the pose the clips start from: arms hanging, elbows soft.
func relaxed() pose {
	var p pose
	arm := armTurn(0, 30*degree, 0, 0, 0)
	p.turn[upperArmL], p.turn[upperArmR] = arm, mirrorTurn(arm)
	bend := elbowTurn(15 * degree)
	p.turn[forearmL], p.turn[forearmR] = bend, mirrorTurn(bend)
	return p
}

// overheadReach sends the left arm from hanging to straight overhead, swayed
// outward, with the shoulder turned; the body leans after it.
func overheadReach(t float64) pose {
	p := relaxed()
	k := thereAndBack(t, 0.45, 0.58)
	p.turn[upperArmL] = armTurn(-45*degree*k, lerp(30, 40, k)*degree, 170*degree*k, 25*degree*k, 8*degree*k)
	p.turn[collarboneL] = turn(fore, 14*degree*k)
	p.turn[forearmL] = elbowTurn(lerp(15, 10, k)*degree + 40*degree*math.Sin(math.Pi*k))
	p.turn[handL] = turn(elbowHinge, -15*degree*k)
	other := armTurn(0, lerp(30, 22, k)*degree, -18*degree*k, 0, 0)
	p.turn[upperArmR] = mirrorTurn(other)
	p.turn[head] = quat.Mul(turn(up, 10*degree*k), turn(left, -20*degree*k))
	p.turn[neck] = turn(left, -8*degree*k)
	p.turn[spine] = turn(fore, 2*degree*k)
	p.turn[chest] = quat.Mul(turn(fore, 3*degree*k), turn(up, -8*degree*k))
	return p.planted(footR)
}

// highStep raises the left thigh to 110 degrees, swayed outward and turned out,
// with the knee bent, over a standing leg that gives a little.
func highStep(t float64) pose {
	p := relaxed()
	k := thereAndBack(t, 0.42, 0.60)
	p.turn[thighL] = thighTurn(110*degree*k, 35*degree*k, 25*degree*k)
	p.turn[shinL] = kneeTurn(lerp(0, 98, k)*degree + 25*degree*math.Sin(math.Pi*k))
	p.turn[footL] = turn(left, -8*degree*k)
	standing := 9 * degree * k
	p.turn[thighR] = turn(left, -standing)
	p.turn[shinR] = kneeTurn(2 * standing)
	p.turn[footR] = turn(left, -standing)
	p.turn[spine] = quat.Mul(turn(fore, -5*degree*k), turn(left, 8*degree*k))
	p.turn[chest] = turn(left, 6*degree*k)
	p.turn[head] = turn(left, 4*degree*k)
	balance := armTurn(0, lerp(30, 2, k)*degree, 20*degree*k, 0, 0)
	p.turn[upperArmL] = balance
	p.turn[upperArmR] = mirrorTurn(armTurn(0, lerp(30, 12, k)*degree, 45*degree*k, 20*degree*k, 0))
	bend := elbowTurn(lerp(15, 40, k) * degree)
	p.turn[forearmL], p.turn[forearmR] = bend, mirrorTurn(bend)
	return p.planted(footR)
}

// forearmWring bends the left elbow and turns the hand to and fro on a hold, two
// times, while the wrist bends.
func forearmWring(t float64) pose {
	p := relaxed()
	k := thereAndBack(t, 0.18, 0.85)
	p.turn[upperArmL] = armTurn(0, lerp(30, 36, k)*degree, 48*degree*k, 20*degree*k, 0)
	p.turn[forearmL] = elbowTurn(lerp(15, 75, k) * degree)
	phase := smoothStep(0.12, 0.92, t)
	wring := 75 * degree * k * math.Sin(4*math.Pi*phase)
	bend := 25 * degree * k * math.Sin(2*math.Pi*phase)
	p.turn[handL] = quat.Mul(turn(fore, bend), turn(armDirection, wring))
	p.turn[upperArmR] = mirrorTurn(armTurn(0, lerp(30, 34, k)*degree, 10*degree*k, 0, 0))
	p.turn[chest] = turn(up, -6*degree*k)
	p.turn[head] = quat.Mul(turn(up, 14*degree*k), turn(left, 10*degree*k))
	return p.planted(footR)
}

// limberUp turns thighs, upper arms and hands about their own lengths, outward
// and inward, and bends nothing: what the skin suffers here it owes to twist
// alone.
func limberUp(t float64) pose {
	var p pose
	sway := smoothStep(0, 0.15, t) * (1 - smoothStep(0.85, 1, t)) * math.Sin(2*math.Pi*t)
	arm := turn(armDirection, -80*degree*sway)
	thigh := turn(r3.Vec{Y: 1}, 60*degree*sway)
	hand := turn(armDirection, -80*degree*sway)
	p.turn[upperArmL], p.turn[upperArmR] = arm, mirrorTurn(arm)
	p.turn[thighL], p.turn[thighR] = thigh, mirrorTurn(thigh)
	p.turn[handL], p.turn[handR] = hand, mirrorTurn(hand)
	return p
}
