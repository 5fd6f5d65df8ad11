package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// properties hold for every rotation and axis. Each is a test and a fuzz
// target.
var properties = map[string]func(*rapid.T){
	"bounds":       propertyBounds,
	"product":      propertyProduct,
	"axis":         propertyAxis,
	"sign":         propertySign,
	"frame":        propertyFrame,
	"orders":       propertyOrders,
	"own axis":     propertyOwnAxis,
	"power":        propertyPower,
	"about":        propertyAbout,
	"total":        propertyTotal,
	"unwrap":       propertyUnwrap,
	"unwrap turns": propertyUnwrapTurns,
}

func TestProperties(t *testing.T) {
	for name, property := range properties {
		t.Run(name, func(t *testing.T) { rapid.Check(t, property) })
	}
}

func FuzzBounds(f *testing.F)      { f.Fuzz(rapid.MakeFuzz(propertyBounds)) }
func FuzzProduct(f *testing.F)     { f.Fuzz(rapid.MakeFuzz(propertyProduct)) }
func FuzzAxis(f *testing.F)        { f.Fuzz(rapid.MakeFuzz(propertyAxis)) }
func FuzzSign(f *testing.F)        { f.Fuzz(rapid.MakeFuzz(propertySign)) }
func FuzzFrame(f *testing.F)       { f.Fuzz(rapid.MakeFuzz(propertyFrame)) }
func FuzzOrders(f *testing.F)      { f.Fuzz(rapid.MakeFuzz(propertyOrders)) }
func FuzzOwnAxis(f *testing.F)     { f.Fuzz(rapid.MakeFuzz(propertyOwnAxis)) }
func FuzzPower(f *testing.F)       { f.Fuzz(rapid.MakeFuzz(propertyPower)) }
func FuzzAbout(f *testing.F)       { f.Fuzz(rapid.MakeFuzz(propertyAbout)) }
func FuzzTotal(f *testing.F)       { f.Fuzz(rapid.MakeFuzz(propertyTotal)) }
func FuzzUnwrap(f *testing.F)      { f.Fuzz(rapid.MakeFuzz(propertyUnwrap)) }
func FuzzUnwrapTurns(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyUnwrapTurns)) }

// delicate draws a rotation and an axis: any, or one whose swing of nearly half
// a turn makes the twist hard to tell.
func delicate(t *rapid.T) (quat.Number, r3.Vec) {
	axis := draw.Direction().Draw(t, "axis")
	if rapid.Bool().Draw(t, "delicate") {
		a := oracle.FromVec(axis).Unit().Float64()
		across := oracle.FromVec(a).Cross(oracle.FromVec(draw.Unit().Draw(t, "across"))).Float64()
		n := r3.Norm(across)
		if n > 0.1 {
			small := math.Ldexp(rapid.Float64Range(-1, 1).Draw(t, "w"), -rapid.IntRange(0, 56).Draw(t, "gap"))
			p := small * rapid.Float64Range(-1, 1).Draw(t, "p")
			return number(small, across.X/n+p*a.X, across.Y/n+p*a.Y, across.Z/n+p*a.Z), axis
		}
	}
	return draw.Rotation().Draw(t, "q"), axis
}

// exact returns the oracle's parts and condition, and whether the twist is
// defined well enough to compare: by a condition of twice the least.
func exact(q quat.Number, axis r3.Vec) (swing, turn oracle.Quat, condition float64, usable bool) {
	e, a := oracle.FromQuat(q), oracle.FromVec(axis)
	u := e.Unit()
	p := u.V.Dot(a.Unit())
	n := u.W.Mul(u.W).Add(p.Mul(p)).Sqrt().Float64()
	if n < 2*twist.MinCondition {
		return oracle.Quat{}, oracle.Quat{}, n, false
	}
	s, t, _ := oracle.Split(e, a)
	return s, t, n, true
}

// propertyBounds holds the exported bounds against the oracle.
func propertyBounds(t *rapid.T) {
	q, axis := delicate(t)
	parts, defined := twist.Split(q, axis)
	angle, also := twist.Angle(q, axis)
	swing, turn, n, usable := exact(q, axis)
	if math.Abs(n-parts.Condition) > twist.MaxProductError {
		t.Fatalf("condition %g, exactly %g", parts.Condition, n)
	}
	if !usable {
		t.Skip("too near a half-turn swing")
	}
	if !defined || !also {
		t.Fatalf("undefined at condition %g", n)
	}
	if o := turn.Off(oracle.FromQuat(parts.Twist)).Float64(); o > twist.MaxPartError/n {
		t.Fatalf("twist off by %g, bound %g", o, twist.MaxPartError/n)
	}
	if o := swing.Off(oracle.FromQuat(parts.Swing)).Float64(); o > twist.MaxPartError/n {
		t.Fatalf("swing off by %g, bound %g", o, twist.MaxPartError/n)
	}
	want := oracle.TwistAngle(oracle.FromQuat(q), oracle.FromVec(axis)).Float64()
	if o := math.Abs(wrap(want - angle)); o > twist.MaxAngleError/n {
		t.Fatalf("angle %v, exactly %v, off by %g, bound %g", angle, want, o, twist.MaxAngleError/n)
	}
}

// propertyProduct: swing*twist is q or -q, twist*swing too in the other order,
// whatever the condition.
func propertyProduct(t *rapid.T) {
	q, axis := delicate(t)
	want := oracle.FromQuat(q).Unit()
	first, _ := twist.Split(q, axis)
	if o := want.Off(oracle.FromQuat(quat.Mul(first.Swing, first.Twist))).Float64(); o > twist.MaxProductError {
		t.Fatalf("swing*twist off by %g", o)
	}
	second, _ := twist.SplitSwingFirst(q, axis)
	if o := want.Off(oracle.FromQuat(quat.Mul(second.Twist, second.Swing))).Float64(); o > twist.MaxProductError {
		t.Fatalf("twist*swing off by %g", o)
	}
}

// propertyAxis: the twist keeps the axis, and the swing alone carries it where
// q does; the swing's own axis lies across. All to the rounding of parts.
func propertyAxis(t *rapid.T) {
	q, axis := delicate(t)
	parts, defined := twist.Split(q, axis)
	if !defined {
		t.Skip("undefined")
	}
	a := oracle.FromVec(axis).Unit()
	kept := oracle.FromQuat(parts.Twist).Rotate(a).Sub(a).Norm().Float64()
	if kept > 4*twist.MaxProductError { // a rotation doubles the error of its vector part, of two components or so
		t.Fatalf("the twist moves its axis by %g", kept)
	}
	swung, whole := oracle.FromQuat(parts.Swing).Rotate(a), oracle.FromQuat(q).Rotate(a)
	if o := swung.Sub(whole).Norm().Float64(); o > 4*twist.MaxProductError {
		t.Fatalf("swing and q part by %g on the axis", o)
	}
	if o := oracle.FromQuat(parts.Swing).V.Dot(a).Abs().Float64(); o > 2*twist.MaxProductError {
		t.Fatalf("the swing turns about the axis by %g", o)
	}
}

// propertySign: q and -q give the same bits, and signs are as documented.
func propertySign(t *rapid.T) {
	q, axis := delicate(t)
	minus := quat.Scale(-1, q)
	for _, split := range []func(quat.Number, r3.Vec) (twist.Parts, bool){twist.Split, twist.SplitSwingFirst} {
		a, okA := split(q, axis)
		b, okB := split(minus, axis)
		if bits(a) != bits(b) || okA != okB {
			t.Fatalf("%v, %v", a, b)
		}
		if a.Twist.Real < 0 || a.Swing.Real < 0 || a.Condition < 0 || a.Condition > 1 {
			t.Fatalf("signs: %v", a)
		}
		if okA && (a.Swing.Real != a.Condition || a.Condition < twist.MinCondition) {
			t.Fatalf("condition: %v", a)
		}
	}
	a, okA := twist.Angle(q, axis)
	b, okB := twist.Angle(minus, axis)
	if math.Float64bits(a) != math.Float64bits(b) || okA != okB {
		t.Fatalf("%v, %v", a, b)
	}
	if !(a > -math.Pi && a <= math.Pi) {
		t.Fatalf("angle %v", a)
	}
}

func bits(p twist.Parts) (b [9]uint64) {
	for i, x := range [9]float64{
		p.Swing.Real, p.Swing.Imag, p.Swing.Jmag, p.Swing.Kmag,
		p.Twist.Real, p.Twist.Imag, p.Twist.Jmag, p.Twist.Kmag, p.Condition,
	} {
		b[i] = math.Float64bits(x)
	}
	return b
}

// propertyFrame: turning the frame turns the parts and leaves the angle.
func propertyFrame(t *rapid.T) {
	q, axis, g := draw.UnitRotation().Draw(t, "q"), draw.Unit().Draw(t, "axis"), draw.UnitRotation().Draw(t, "g")
	parts, defined := twist.Split(q, axis)
	turned, also := twist.Split(product(g, q, quat.Conj(g)), rotate(g, axis))
	if !defined || !also || parts.Condition < 1e-6 {
		t.Skip("the change of frame rounds a delicate twist away")
	}
	tolerance := 2 * twist.MaxPartError / parts.Condition // two splits and two changes of frame
	if o := off(product(g, parts.Twist, quat.Conj(g)), turned.Twist); o > tolerance {
		t.Fatalf("twist off by %g", o)
	}
	if o := off(product(g, parts.Swing, quat.Conj(g)), turned.Swing); o > tolerance {
		t.Fatalf("swing off by %g", o)
	}
}

// propertyOrders: both orders have the same twist, and swings of one angle.
func propertyOrders(t *rapid.T) {
	q, axis := delicate(t)
	first, okFirst := twist.Split(q, axis)
	second, okSecond := twist.SplitSwingFirst(q, axis)
	if first.Twist != second.Twist || first.Condition != second.Condition || okFirst != okSecond {
		t.Fatalf("%v, %v", first, second)
	}
	if !okFirst {
		t.Skip("undefined")
	}
	if o := math.Abs(angleOf(first.Swing) - angleOf(second.Swing)); o > 4*twist.MaxProductError {
		t.Fatalf("swing angles differ by %g", o)
	}
	angle, _ := twist.Angle(q, axis)
	if o := math.Abs(wrap(2*math.Atan2(r3.Norm(r3.Vec{X: first.Twist.Imag, Y: first.Twist.Jmag, Z: first.Twist.Kmag}), first.Twist.Real) - math.Abs(angle))); o > 2*twist.MaxPartError/first.Condition {
		t.Fatalf("Split and Angle differ by %g", o)
	}
}

// propertyOwnAxis: about the rotation's own axis everything is twist.
func propertyOwnAxis(t *rapid.T) {
	axis, angle := draw.Direction().Draw(t, "axis"), rapid.Float64Range(-3.14, 3.14).Draw(t, "angle")
	parts, defined := twist.Split(twist.About(axis, angle), axis)
	if !defined {
		t.Fatal("undefined")
	}
	if o := off(number(1, 0, 0, 0), parts.Swing); o > twist.MaxProductError {
		t.Fatalf("swing %v", parts.Swing)
	}
	got, _ := twist.Angle(twist.About(axis, angle), axis)
	if math.Abs(got-angle) > 2*twist.MaxAngleError { // About rounds too
		t.Fatalf("angle %v, want %v", got, angle)
	}
}

// propertyTotal: any bits at all may come in; what comes out is unit
// quaternions, or NaN and false where something was not finite.
func propertyTotal(t *rapid.T) {
	float := rapid.Custom(func(t *rapid.T) float64 { return math.Float64frombits(rapid.Uint64().Draw(t, "bits")) })
	any := rapid.OneOf(float, draw.Component(), rapid.SampledFrom([]float64{0, nan, inf, -inf, denorm, math.MaxFloat64}))
	var c [8]float64
	finite := true
	for i := range c {
		c[i] = any.Draw(t, "c")
		finite = finite && !math.IsNaN(c[i]) && !math.IsInf(c[i], 0)
	}
	q, axis := number(c[0], c[1], c[2], c[3]), r3.Vec{X: c[4], Y: c[5], Z: c[6]}
	if !finite {
		if _, defined := twist.Power(q, axis, c[7]); defined {
			t.Fatal("defined")
		}
		return
	}
	parts, _ := twist.Split(q, axis)
	angle, _ := twist.Angle(q, axis)
	// k times the angle may overflow, which is documented: keep it below.
	power, _ := twist.Power(q, axis, c[7]/4)
	for _, u := range []quat.Number{parts.Swing, parts.Twist, power, twist.About(axis, c[7])} {
		if !(math.Abs(quat.Abs(u)-1) < twist.MaxProductError) {
			t.Fatalf("%v is not a rotation", u)
		}
	}
	if !(angle > -math.Pi && angle <= math.Pi) {
		t.Fatalf("angle %v", angle)
	}
}
