package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// properties hold for all directions and rotations. Each is a test and a fuzz
// target.
var properties = map[string]func(*rapid.T){
	"arc":           propertyArc,
	"arc parallel":  propertyArcParallel,
	"arc exchange":  propertyArcExchange,
	"arc frame":     propertyArcFrame,
	"perpendicular": propertyPerpendicular,
	"aim":           propertyAim,
	"aim in":        propertyAimIn,
	"centred":       propertyCentred,
	"solid angle":   propertySolidAngle,
	"transport":     propertyTransport,
	"total":         propertyTotal,
}

func TestProperties(t *testing.T) {
	for name, property := range properties {
		t.Run(name, func(t *testing.T) { rapid.Check(t, property) })
	}
}

func FuzzArc(f *testing.F)           { f.Fuzz(rapid.MakeFuzz(propertyArc)) }
func FuzzArcParallel(f *testing.F)   { f.Fuzz(rapid.MakeFuzz(propertyArcParallel)) }
func FuzzArcExchange(f *testing.F)   { f.Fuzz(rapid.MakeFuzz(propertyArcExchange)) }
func FuzzArcFrame(f *testing.F)      { f.Fuzz(rapid.MakeFuzz(propertyArcFrame)) }
func FuzzPerpendicular(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyPerpendicular)) }
func FuzzAim(f *testing.F)           { f.Fuzz(rapid.MakeFuzz(propertyAim)) }
func FuzzAimIn(f *testing.F)         { f.Fuzz(rapid.MakeFuzz(propertyAimIn)) }
func FuzzCentred(f *testing.F)       { f.Fuzz(rapid.MakeFuzz(propertyCentred)) }
func FuzzSolidAngle(f *testing.F)    { f.Fuzz(rapid.MakeFuzz(propertySolidAngle)) }
func FuzzTransport(f *testing.F)     { f.Fuzz(rapid.MakeFuzz(propertyTransport)) }
func FuzzTotal(f *testing.F)         { f.Fuzz(rapid.MakeFuzz(propertyTotal)) }

// pair draws two directions: any two, nearly equal ones, or nearly opposite.
func pair(t *rapid.T) (from, to r3.Vec) {
	switch rapid.IntRange(0, 2).Draw(t, "how") {
	case 0:
		return draw.Direction().Draw(t, "from"), draw.Direction().Draw(t, "to")
	case 1:
		from = draw.Unit().Draw(t, "from")
		return from, draw.Near(from).Draw(t, "to")
	}
	from = draw.Unit().Draw(t, "from")
	return from, draw.Near(r3.Scale(-1, from)).Draw(t, "to")
}

// propertyArc holds the exported bounds against the oracle.
func propertyArc(t *rapid.T) {
	from, to := pair(t)
	q, determined := swing.Arc(from, to)
	a, b := oracle.FromVec(from), oracle.FromVec(to)
	cosine := a.Unit().Add(b.Unit()).Norm().Float64() / 2 // of half the arc
	if determined != (cosine >= swing.MinCondition) && math.Abs(cosine-swing.MinCondition) > 4*0x1p-52 {
		t.Fatalf("determined %t at %g", determined, cosine)
	}
	if q.Real < 0 || math.Abs(quat.Abs(q)-1) > 4*0x1p-52 {
		t.Fatalf("not a canonical rotation: %v", q)
	}
	missed := oracle.FromQuat(q).Rotate(a.Unit()).Angle(b.Unit()).Float64()
	if !determined {
		if missed > 2*swing.MinCondition+2*swing.MaxArcError {
			t.Fatalf("half turn misses by %g", missed)
		}
		t.Skip("opposite")
	}
	if missed > swing.MaxArcError {
		t.Fatalf("misses by %g, bound %g, at %g", missed, swing.MaxArcError, cosine)
	}
	rest := oracle.Arc(a, b).Conj().Mul(oracle.FromQuat(q).Unit())
	angle := oracle.Atan2(rest.V.Norm(), rest.W.Abs()).Float64() * 2
	if angle > swing.MaxArcError/cosine {
		t.Fatalf("rotation off by %g, bound %g", angle, swing.MaxArcError/cosine)
	}
}

// propertyArcParallel: equal up to a power of two is exactly the identity.
func propertyArcParallel(t *rapid.T) {
	v := draw.Unit().Draw(t, "v")
	e := rapid.IntRange(-950, 1000).Draw(t, "e")
	w := r3.Vec{X: math.Ldexp(v.X, e), Y: math.Ldexp(v.Y, e), Z: math.Ldexp(v.Z, e)}
	if math.Ldexp(w.X, -e) != v.X || math.Ldexp(w.Y, -e) != v.Y || math.Ldexp(w.Z, -e) != v.Z {
		t.Skip("a component became subnormal and lost bits")
	}
	if q, determined := swing.Arc(v, w); q != one || !determined {
		t.Fatalf("%v", q)
	}
	if q, determined := swing.Arc(w, v); q != one || !determined {
		t.Fatalf("%v", q)
	}
}

// propertyArcExchange: the way back is exactly the conjugate.
func propertyArcExchange(t *rapid.T) {
	from, to := pair(t)
	there, determined := swing.Arc(from, to)
	back, also := swing.Arc(to, from)
	if determined != also {
		t.Fatalf("determined %t, back %t", determined, also)
	}
	if determined && quat.Conj(there) != back {
		t.Fatalf("%v, back %v", there, back)
	}
}

// propertyArcFrame: turning the frame turns the arc.
func propertyArcFrame(t *rapid.T) {
	from, to, g := draw.Unit().Draw(t, "from"), draw.Unit().Draw(t, "to"), draw.UnitRotation().Draw(t, "g")
	q, determined := swing.Arc(from, to)
	turned, also := swing.Arc(rotate(g, from), rotate(g, to))
	if !determined || !also || q.Real < 1e-6 {
		t.Skip("the change of frame rounds a delicate arc away")
	}
	// Two arcs, and two changes of frame of some eps each over the same cosine.
	if o := off(quat.Mul(quat.Mul(g, q), quat.Conj(g)), turned); o > 3*swing.MaxArcError/q.Real {
		t.Fatalf("off by %g", o)
	}
}

func propertyPerpendicular(t *rapid.T) {
	v := draw.Direction().Draw(t, "v")
	p, ok := swing.Perpendicular(v)
	if !ok {
		t.Fatal("undefined")
	}
	if math.Abs(r3.Norm(p)-1) > 0x1p-51 {
		t.Fatalf("length of %v", p)
	}
	if o := oracle.FromVec(p).Dot(oracle.FromVec(v).Unit()).Abs().Float64(); o > 0x1p-51 {
		t.Fatalf("along by %g", o)
	}
}

// propertyAim: the axis ends on the target, by the shortest turn, in q's half
// space, and -q gives the negated result.
func propertyAim(t *rapid.T) {
	q, axis, target := draw.Rotation().Draw(t, "q"), draw.Direction().Draw(t, "axis"), draw.Direction().Draw(t, "target")
	r, determined := swing.Aim(q, axis, target)
	if minus, also := swing.Aim(quat.Scale(-1, q), axis, target); minus != quat.Scale(-1, r) || determined != also {
		t.Fatalf("%v, for -q %v", r, minus)
	}
	if !determined {
		t.Skip("opposite")
	}
	if missed := arrives(r, axis, target); missed > maxAimError {
		t.Fatalf("misses by %g", missed)
	}
	turn := oracle.FromQuat(r).Mul(oracle.FromQuat(q).Unit().Conj())
	if turn.W.Float64() < -swing.MaxArcError {
		t.Fatal("left the half space of q")
	}
	aimed := oracle.FromQuat(q).Rotate(oracle.FromVec(axis).Unit())
	arc := aimed.Angle(oracle.FromVec(target)).Float64()
	if angle := 2 * oracle.Atan2(turn.V.Norm(), turn.W).Float64(); math.Abs(angle-arc) > maxAimError {
		t.Fatalf("turned by %g, needed %g", angle, arc)
	}
}

// maxAimError is the arc's error and some eps more for turning the axis into
// the world and for the product.
const maxAimError = 2 * swing.MaxArcError

// arrives measures how far off r points axis.
func arrives(r quat.Number, axis, target r3.Vec) float64 {
	return oracle.FromQuat(r).Rotate(oracle.FromVec(axis).Unit()).Angle(oracle.FromVec(target).Unit()).Float64()
}

// propertyAimIn: in the world it is Aim.
func propertyAimIn(t *rapid.T) {
	parent, local := draw.UnitRotation().Draw(t, "parent"), draw.UnitRotation().Draw(t, "local")
	axis, target := draw.Unit().Draw(t, "axis"), draw.Unit().Draw(t, "target")
	inner, determined := swing.AimIn(parent, local, axis, target)
	outer, also := swing.Aim(quat.Mul(parent, local), axis, target)
	if !determined || !also {
		t.Skip("opposite")
	}
	if missed := arrives(quat.Mul(parent, inner), axis, target); missed > 2*maxAimError {
		t.Fatalf("misses by %g", missed)
	}
	swung := quat.Mul(outer, quat.Conj(quat.Mul(parent, local)))
	if swung.Real < 1e-6 {
		t.Skip("roll next to opposite")
	}
	if o := off(quat.Mul(parent, inner), outer); o > 2*maxAimError/swung.Real {
		t.Fatalf("off by %g", o)
	}
}

// propertyCentred: it carries axis to to, is the identity at rest, and is Arc
// with the centre on the axis.
func propertyCentred(t *rapid.T) {
	axis, centre, to := draw.Direction().Draw(t, "axis"), draw.Direction().Draw(t, "centre"), draw.Direction().Draw(t, "to")
	s, determined := swing.Centred(axis, centre, to)
	if rest, _ := swing.Centred(axis, centre, axis); rest != one {
		t.Fatalf("at rest %v", rest)
	}
	arc, also := swing.Arc(axis, to)
	if plain, ok := swing.Centred(axis, axis, to); off(plain, arc) > 0 || ok != also {
		t.Fatalf("plain %v, arc %v", plain, arc)
	}
	if s.Real < 0 {
		t.Fatalf("sign of %v", s)
	}
	if !determined {
		t.Skip("opposite")
	}
	if missed := arrives(s, axis, to); missed > 3*swing.MaxArcError {
		t.Fatalf("misses by %g", missed)
	}
}

// propertyTransport: every reference is of unit length and across its tangent.
func propertyTransport(t *rapid.T) {
	n := rapid.IntRange(0, 6).Draw(t, "n")
	points, tangents := make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range points {
		points[i], tangents[i] = draw.Direction().Draw(t, "point"), draw.Direction().Draw(t, "tangent")
		if i > 0 && rapid.IntRange(0, 4).Draw(t, "stay") == 0 {
			points[i] = points[i-1]
		}
	}
	for i, r := range swing.Transport(nil, points, tangents, draw.Direction().Draw(t, "start")) {
		if o := math.Abs(r3.Norm(r) - 1); !(o <= 4*0x1p-53) {
			t.Fatalf("length of %v off by %g", r, o)
		}
		if o := oracle.FromVec(r).Dot(oracle.FromVec(tangents[i]).Unit()).Abs().Float64(); o > 4*0x1p-52 {
			t.Fatalf("reference %d along its tangent by %g", i, o)
		}
	}
}

// propertyTotal: any bits at all may come in; what comes out is rotations, or
// NaN and false.
func propertyTotal(t *rapid.T) {
	float := rapid.Custom(func(t *rapid.T) float64 { return math.Float64frombits(rapid.Uint64().Draw(t, "bits")) })
	any := rapid.OneOf(float, draw.Component(), rapid.SampledFrom([]float64{0, nan, inf, -inf, denorm, math.MaxFloat64}))
	var c [17]float64
	for i := range c {
		c[i] = any.Draw(t, "c")
	}
	p, q := quat.Number{Real: c[0], Imag: c[1], Jmag: c[2], Kmag: c[3]}, quat.Number{Real: c[4], Imag: c[5], Jmag: c[6], Kmag: c[7]}
	u, v, w := r3.Vec{X: c[8], Y: c[9], Z: c[10]}, r3.Vec{X: c[11], Y: c[12], Z: c[13]}, r3.Vec{X: c[14], Y: c[15], Z: c[16]}
	finite := func(numbers ...float64) bool {
		for _, x := range numbers {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return false
			}
		}
		return true
	}
	check := func(name string, fine bool, r quat.Number, determined bool) {
		switch {
		case !fine && (determined || !quat.IsNaN(r)):
			t.Fatalf("%s: %v, %t from inputs that are not finite", name, r, determined)
		case fine && !(math.Abs(quat.Abs(r)-1) < 1e-14):
			t.Fatalf("%s: %v is not a rotation", name, r)
		}
	}
	r, ok := swing.Arc(u, v)
	check("Arc", finite(c[8:14]...), r, ok)
	r, ok = swing.Centred(u, v, w)
	check("Centred", finite(c[8:]...), r, ok)
	r, ok = swing.Aim(q, u, v)
	check("Aim", finite(c[4:14]...), r, ok)
	r, ok = swing.AimIn(p, q, u, v)
	check("AimIn", finite(c[:14]...), r, ok)
	swing.Transport(nil, []r3.Vec{u, v, w}, []r3.Vec{v, w, u}, w)
}
