package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// solidAngle is the signed solid angle of a spherical triangle, positive for
// counter-clockwise as seen from outside: Van Oosterom and Strackee 1983, "The
// solid angle of a plane triangle", doi 10.1109/TBME.1983.325207.
func solidAngle(a, b, c r3.Vec) float64 {
	return 2 * math.Atan2(r3.Dot(a, r3.Cross(b, c)), 1+r3.Dot(a, b)+r3.Dot(b, c)+r3.Dot(c, a))
}

// lhuilier is the same, unsigned, from the sides.
func lhuilier(a, b, c float64) float64 {
	s := (a + b + c) / 2
	return 4 * math.Atan(math.Sqrt(math.Tan(s/2)*math.Tan((s-a)/2)*math.Tan((s-b)/2)*math.Tan((s-c)/2)))
}

// loop composes the shortest arcs round a closed path of directions, in order.
func loop(t *testing.T, directions ...r3.Vec) quat.Number {
	t.Helper()
	q := one
	for i, d := range directions {
		q = quat.Mul(mustArc(t, d, directions[(i+1)%len(directions)]), q)
	}
	return q
}

// TestOctant: round an eighth of the sphere the frame turns by pi/2, back by
// -pi/2: the enclosed solid angle (Gauss and Bonnet).
func TestOctant(t *testing.T) {
	require.InDelta(t, math.Pi/2, about(loop(t, axisZ, axisX, axisY), axisZ), angleTolerance)
	require.InDelta(t, -math.Pi/2, about(loop(t, axisZ, axisY, axisX), axisZ), angleTolerance)
}

// TestSolidAngleValues: a triangle of pi/12 (Van Oosterom and Strackee 1983)
// and the equilateral one of side 1 (L'Huilier; OEIS A243710).
func TestSolidAngleValues(t *testing.T) {
	a, b, c := axisX, r3.Unit(r3.Vec{X: 1, Y: 1}), r3.Unit(r3.Vec{X: 1, Y: 1, Z: 1})
	require.InDelta(t, math.Pi/12, solidAngle(a, b, c), angleTolerance)
	require.InDelta(t, math.Pi/12, about(loop(t, a, b, c), a), angleTolerance)

	const side = 0.49559489573396475
	require.InDelta(t, side, lhuilier(1, 1, 1), angleTolerance)
	// Three directions a radian apart, evenly round z: sin(1/2) = sin(60°) sin θ.
	theta := math.Asin(math.Sin(0.5) / math.Sin(60*degree))
	corners := []r3.Vec{polar(theta, 0), polar(theta, 120*degree), polar(theta, 240*degree)}
	require.InDelta(t, 1, between(corners[0], corners[1]), angleTolerance)
	require.InDelta(t, side, solidAngle(corners[0], corners[1], corners[2]), angleTolerance)
	require.InDelta(t, side, about(loop(t, corners...), corners[0]), angleTolerance)
}

// TestThreeWaysAgree: holonomy, Van Oosterom and Strackee, and L'Huilier.
func TestThreeWaysAgree(t *testing.T) {
	for i := range 2000 {
		// A fixed spread of triangles: irrational steps, no generator needed.
		x := float64(i)
		a := polar(math.Mod(x*0.618033988749895, 1)*3, x)
		b := polar(math.Mod(x*0.754877666246693, 1)*3, 1.7*x)
		c := polar(math.Mod(x*0.569840290998053, 1)*3, 2.9*x)
		ab, bc, ca := between(a, b), between(b, c), between(c, a)
		if max(ab, bc, ca) > 3 || min(ab+bc-ca, bc+ca-ab, ca+ab-bc) < 0.05 || ab+bc+ca > 6 {
			continue // nearly opposite, or a sliver, where L'Huilier's root loses half the digits
		}
		omega := solidAngle(a, b, c)
		require.InDelta(t, 0, math.Remainder(about(loop(t, a, b, c), a)-omega, 2*math.Pi), 1e-11)
		require.InDelta(t, math.Abs(omega), lhuilier(ab, bc, ca), 1e-11)
	}
}

// TestCircle: n shortest arcs round the circle 60 degrees from z enclose a
// polygon whose area tends to the cap's 2 pi (1 - cos 60°) = pi (derived).
func TestCircle(t *testing.T) {
	for _, c := range []struct {
		n    int
		want float64
	}{{64, 3.139699040}, {256, 3.141474370}, {1024, 3.141585261}} {
		var ring []r3.Vec
		for i := range c.n {
			ring = append(ring, polar(60*degree, 2*math.Pi*float64(i)/float64(c.n)))
		}
		require.InDelta(t, c.want, about(loop(t, ring...), ring[0]), 1e-9)
	}
}

// TestRollFreeSweep: a sideways sweep by Δφ at the polar angle θ, free of roll,
// leaves the frame Δφ (1 - cos θ) from where the meridians have it, the area
// swept: Yoon 2014, Adv Biomech Appl 1(2):85-93 (abstract).
func TestRollFreeSweep(t *testing.T) {
	const steps = 4000
	for _, c := range [][2]float64{{30, 40}, {60, 90}, {90, 90}, {120, 60}, {150, -30}} {
		theta, sweep := c[0]*degree, c[1]*degree
		path := []r3.Vec{axisZ}
		for i := range steps + 1 {
			path = append(path, polar(theta, sweep*float64(i)/steps))
		}
		// The polygon misses the cap's area by a share of steps⁻².
		require.InDelta(t, sweep*(1-math.Cos(theta)), about(loop(t, path...), axisZ), 1e-6)
	}
}

// TestRollRate: moved sideways at a polar angle θ the field of shortest arcs
// rolls about its direction by -tan(θ/2) per radian of arc, along a meridian
// not at all; the re-centred field by the same of the angle from its centre
// (derived). That an aimed segment's roll becomes a nuisance past 90 degrees
// with sideways sway is common practice, no source.
func TestRollRate(t *testing.T) {
	const h = 1e-5 // central difference: h² and eps/h are below 1e-9
	rate := func(field func(d r3.Vec) quat.Number, theta float64, move func(s float64) r3.Vec, arc float64) float64 {
		d := polar(theta, 0.3)
		delta := quat.Mul(field(move(h)), quat.Conj(field(move(-h))))
		omega := r3.Scale(2, r3.Vec{X: delta.Imag, Y: delta.Jmag, Z: delta.Kmag})
		return r3.Dot(omega, d) / (2 * h * arc)
	}
	plain := func(d r3.Vec) quat.Number { return mustArc(t, axisZ, d) }
	for _, c := range []struct{ theta, want float64 }{
		{30, 0.267949}, {60, 0.577350}, {90, 1}, {120, 1.732051}, {150, 3.732051}, {170, 11.430052}, {179, 114.588650},
	} {
		theta := c.theta * degree
		sideways := func(s float64) r3.Vec { return polar(theta, 0.3+s) }
		along := func(s float64) r3.Vec { return polar(theta+s, 0.3) }
		got := rate(plain, theta, sideways, math.Sin(theta))
		require.InEpsilon(t, -c.want, got, 1e-6, "%v degrees", c.theta)
		require.InDelta(t, -math.Tan(theta/2), got, 1e-6*(1+c.want), "%v degrees", c.theta)
		require.InDelta(t, 0, rate(plain, theta, along, 1), 1e-6, "%v degrees", c.theta)

		// With its centre on z the re-centred field rolls the same, whatever
		// its axis: the arc from axis to centre is constant.
		centred := func(d r3.Vec) quat.Number {
			s, determined := swing.Centred(r3.Vec{X: 0.6, Y: 0.8}, axisZ, d)
			require.True(t, determined)
			return s
		}
		require.InEpsilon(t, -c.want, rate(centred, theta, sideways, math.Sin(theta)), 1e-6, "%v degrees", c.theta)
	}
}

// propertySolidAngle: going round a triangle by shortest arcs turns by its
// signed solid angle (Gauss and Bonnet), which is also what parts the plain
// and the re-centred field; the solid angle by Van Oosterom and Strackee 1983, doi 10.1109/TBME.1983.325207.
func propertySolidAngle(t *rapid.T) {
	a, b, c := draw.Unit().Draw(t, "a"), draw.Unit().Draw(t, "b"), draw.Unit().Draw(t, "c")
	ab, ok1 := swing.Arc(a, b)
	bc, ok2 := swing.Arc(b, c)
	ca, ok3 := swing.Arc(c, a)
	least := min(ab.Real, bc.Real, ca.Real)
	if !ok1 || !ok2 || !ok3 || least < 1e-3 {
		t.Skip("an arc next to opposite is not determined well")
	}
	tolerance := 8 * swing.MaxArcError / least // three arcs, products, and the formula
	omega := solidAngle(a, b, c)
	loop := quat.Mul(ca, quat.Mul(bc, ab))
	if o := math.Abs(math.Remainder(about(loop, a)-omega, 2*math.Pi)); o > tolerance/least {
		t.Fatalf("loop turns by %v, solid angle %v", about(loop, a), omega)
	}
	// Arc(a,c) = Centred(a,b,c) turned back: Centred = Arc(a,c) * R_a(omega).
	centred, _ := swing.Centred(a, b, c)
	angle, defined := twist.Angle(quat.Mul(ca, centred), a)
	if o := math.Abs(math.Remainder(angle-omega, 2*math.Pi)); !defined || o > tolerance/least {
		t.Fatalf("fields differ by %v, solid angle %v", angle, omega)
	}
}
