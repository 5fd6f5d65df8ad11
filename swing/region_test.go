package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// sampling is how much of an area or a length an edge of arcs of a quarter of
// a degree may leave out: (π/720)²/6 and less.
const sampling = 1e-5

// The frame of a left thigh that hangs down: longitude is flexion, latitude
// abduction. It is left-handed.
var down, forward, outward = r3.Vec{Y: -1}, axisZ, axisX

// hanging is the direction at a flexion and an abduction in radians.
func hanging(flexion, abduction float64) r3.Vec {
	sinF, cosF := math.Sincos(flexion)
	sinA, cosA := math.Sincos(abduction)
	return r3.Vec{X: sinA, Y: -cosA * cosF, Z: cosA * sinF}
}

func mustRegion(t testing.TB) func(swing.Region, error) swing.Region {
	return func(region swing.Region, err error) swing.Region {
		t.Helper()
		require.NoError(t, err)
		return region
	}
}

// degrees is a hanging limb's region between flexions and abductions.
func degrees(t testing.TB, flexion, abduction [2]float64) swing.Region {
	t.Helper()
	for i := range 2 {
		flexion[i] *= degree
		abduction[i] *= degree
	}
	return mustRegion(t)(swing.LonLat(down, forward, outward, flexion, abduction))
}

// fan is the area on the left of a closed edge, a sum of triangles from a
// direction inside (Van Oosterom and Strackee 1983, doi 10.1109/TBME.1983.325207).
func fan(inside r3.Vec, edge []r3.Vec) (area, perimeter float64) {
	for i, d := range edge {
		next := edge[(i+1)%len(edge)]
		area += solidAngle(inside, d, next)
		perimeter += between(d, next)
	}
	return area, perimeter
}

// requireRegion holds a region against its closed forms, and its edge against
// them by the fan and by the polygon that it makes.
func requireRegion(t *testing.T, region swing.Region, inside r3.Vec, area, perimeter float64) {
	t.Helper()
	require.InDelta(t, area, region.Area(), angleTolerance)
	require.InDelta(t, perimeter, region.Perimeter(), angleTolerance)
	a, p := fan(inside, region.Edge())
	require.InEpsilon(t, area, a, sampling)
	require.InEpsilon(t, perimeter, p, sampling)
	polygon := mustRegion(t)(swing.Polygon(region.Edge()...))
	require.InEpsilon(t, area, polygon.Area(), sampling)
	require.InEpsilon(t, perimeter, polygon.Perimeter(), sampling)
}

// TestCap: a cap has the area 2π(1 - cos r) and the edge 2π sin r (Archimedes).
func TestCap(t *testing.T) {
	for _, r := range []float64{0.5, 10, 60, 89, 90, 91, 120} {
		for _, centre := range []r3.Vec{axisZ, {X: -3, Y: 1e-3, Z: 2}} {
			region := mustRegion(t)(swing.Cap(centre, r*degree))
			requireRegion(t, region, r3.Unit(centre), 2*math.Pi*(1-math.Cos(r*degree)), 2*math.Pi*math.Sin(r*degree))
			for _, d := range region.Edge() {
				require.InDelta(t, r*degree, between(centre, d), componentTolerance)
			}
		}
	}
}

// TestLonLat: between circles of latitude the area is that of the cylinder
// about the sphere (Archimedes); of either handedness the region is on the left.
func TestLonLat(t *testing.T) {
	for _, c := range [][4]float64{{40, 50, 20, 30}, {-30, 120, -30, 45}, {-170, 170, -80, 70}, {-0.5, 0.5, -0.5, 0.5}} {
		lon, lat := [2]float64{c[0] * degree, c[1] * degree}, [2]float64{c[2] * degree, c[3] * degree}
		area := (lon[1] - lon[0]) * (math.Sin(lat[1]) - math.Sin(lat[0]))
		perimeter := 2*(lat[1]-lat[0]) + (lon[1]-lon[0])*(math.Cos(lat[0])+math.Cos(lat[1]))
		sin, cos := math.Sincos((lon[0] + lon[1]) / 2)
		for _, side := range []r3.Vec{axisY, {Y: -1}} {
			region := mustRegion(t)(swing.LonLat(axisX, side, axisZ, lon, lat))
			inside := r3.Add(r3.Scale(cos, axisX), r3.Scale(sin, side))
			inside = r3.Unit(r3.Add(inside, r3.Scale(math.Tan((lat[0]+lat[1])/2), axisZ)))
			requireRegion(t, region, inside, area, perimeter)
			centre := inside
			if lon[1]-lon[0] > math.Pi {
				centre = axisZ // seen from its middle it would reach too far
				lat := [2]float64{-60 * degree, lat[1]}
				region = mustRegion(t)(swing.LonLat(axisX, side, axisZ, lon, lat))
			}
			_, err := swing.LeastRoll(centre, centre, region, 6)
			if lon[1]-lon[0] > 320*degree {
				require.ErrorContains(t, err, "nearly closes") // and not that its inside is elsewhere
			} else {
				require.NoError(t, err)
			}
		}
	}
	// A cell of 10 degrees on the equator: (π/18) sin 10°.
	require.InDelta(t, math.Pi/18*math.Sin(10*degree), degrees(t, [2]float64{0, 10}, [2]float64{0, 10}).Area(), angleTolerance)
}

// TestLonLatWholeTurn: round the whole pole the region is a cap, and the
// meridian where it begins is no edge of it.
func TestLonLatWholeTurn(t *testing.T) {
	region := mustRegion(t)(swing.LonLat(axisX, axisY, axisZ, [2]float64{-math.Pi, math.Pi}, [2]float64{30 * degree, math.Pi / 2}))
	cap := mustRegion(t)(swing.Cap(axisZ, 60*degree))
	require.InDelta(t, cap.Area(), region.Area(), angleTolerance)
	require.InDelta(t, cap.Perimeter(), region.Perimeter(), angleTolerance)
	f, err := swing.LeastRoll(axisZ, axisZ, region, 12)
	require.NoError(t, err)
	for _, d := range cap.Edge()[:90] { // the slit does no harm: what rolls least is the centred field
		require.InEpsilon(t, math.Tan(30*degree), rollAt(t, f, d), 1e-2)
	}
}

// TestPolygon: an eighth of the sphere, and the triangle with sides of a radian
// (L'Huilier; OEIS A243710).
func TestPolygon(t *testing.T) {
	octant := mustRegion(t)(swing.Polygon(axisX, r3.Scale(7, axisY), axisZ))
	require.InDelta(t, math.Pi/2, octant.Area(), angleTolerance)
	require.InDelta(t, 3*math.Pi/2, octant.Perimeter(), angleTolerance)
	same := mustRegion(t)(swing.LonLat(axisX, axisY, axisZ, [2]float64{0, math.Pi / 2}, [2]float64{0, math.Pi / 2}))
	require.InDelta(t, octant.Area(), same.Area(), angleTolerance)
	require.InDelta(t, octant.Perimeter(), same.Perimeter(), angleTolerance)

	theta := math.Asin(math.Sin(0.5) / math.Sin(60*degree)) // sin(1/2) = sin 60° sin θ
	triangle := mustRegion(t)(swing.Polygon(polar(theta, 0), polar(theta, 120*degree), polar(theta, 240*degree)))
	require.InDelta(t, 0.49559489573396475, triangle.Area(), angleTolerance)
	require.InDelta(t, 3, triangle.Perimeter(), angleTolerance)
	area, perimeter := fan(axisZ, triangle.Edge())
	require.InDelta(t, triangle.Area(), area, angleTolerance) // samples lie on the sides
	require.InDelta(t, 3, perimeter, angleTolerance)

	hemisphere := mustRegion(t)(swing.Polygon(polar(math.Pi/2, 0), polar(math.Pi/2, 2), polar(math.Pi/2, 4)))
	require.InDelta(t, 2*math.Pi, hemisphere.Area(), angleTolerance)
}

// TestClockwise: the other way round a polygon is all that is outside of it,
// which is too much where that has the point opposite the centre.
func TestClockwise(t *testing.T) {
	a, b, c := polar(0.4, 0), polar(0.5, 2), polar(0.3, 4)
	small, big := mustRegion(t)(swing.Polygon(a, b, c)), mustRegion(t)(swing.Polygon(c, b, a))
	require.Less(t, small.Area(), 0.5)
	require.InDelta(t, 4*math.Pi, small.Area()+big.Area(), angleTolerance)
	require.InDelta(t, small.Perimeter(), big.Perimeter(), angleTolerance)

	_, err := swing.LeastRoll(axisX, axisZ, small, 6)
	require.NoError(t, err)
	_, err = swing.LeastRoll(axisX, axisZ, big, 6)
	require.ErrorContains(t, err, "170 degrees from the centre")
	wide := mustRegion(t)(swing.Polygon(polar(1.2, 4), polar(1.2, 2), polar(1.2, 0)))
	require.Greater(t, wide.Area(), 2*math.Pi)
	_, err = swing.LeastRoll(axisX, r3.Scale(-1, axisZ), wide, 6)
	require.NoError(t, err) // from the other side it has it not
}

// propertyTriangle: a triangle's area is its solid angle, or what is left of
// the sphere.
func propertyTriangle(t *rapid.T) {
	a, b, c := draw.Unit().Draw(t, "a"), draw.Unit().Draw(t, "b"), draw.Unit().Draw(t, "c")
	if math.Abs(r3.Dot(a, r3.Cross(b, c))) < 1e-3 {
		t.Skip("a sliver")
	}
	region, err := swing.Polygon(a, b, c)
	if err != nil {
		t.Fatal(err)
	}
	want := solidAngle(a, b, c)
	if want < 0 {
		want += 4 * math.Pi
	}
	if math.Abs(region.Area()-want) > 1e-11 {
		t.Fatalf("area %v, want %v", region.Area(), want)
	}
}

func TestTriangles(t *testing.T) { rapid.Check(t, propertyTriangle) }
func FuzzTriangle(f *testing.F)  { f.Fuzz(rapid.MakeFuzz(propertyTriangle)) }
func TestEdgeIsACopy(t *testing.T) { // a region is read only
	region := mustRegion(t)(swing.Cap(axisZ, 1))
	region.Edge()[0] = r3.Vec{}
	require.InDelta(t, 1, r3.Norm(region.Edge()[0]), componentTolerance)
}

func TestRegionErrors(t *testing.T) {
	lonLat := func(lon0, lon1, lat0, lat1 float64) error {
		_, err := swing.LonLat(axisX, axisY, axisZ, [2]float64{lon0, lon1}, [2]float64{lat0, lat1})
		return err
	}
	frame := func(ahead, side, pole r3.Vec) error {
		_, err := swing.LonLat(ahead, side, pole, [2]float64{0, 1}, [2]float64{0, 1})
		return err
	}
	cap := func(centre r3.Vec, radius float64) error { _, err := swing.Cap(centre, radius); return err }
	polygon := func(corners ...r3.Vec) error { _, err := swing.Polygon(corners...); return err }
	a, b, c, d := polar(0.5, 0), polar(0.5, 1.5), polar(0.5, 3), polar(0.5, 4.5)
	for _, e := range []struct {
		err         error
		names, want string
	}{
		{cap(r3.Vec{}, 1), "cap: centre", "direction of non-zero length"},
		{cap(r3.Vec{X: nan}, 1), "cap: centre", "finite direction"},
		{cap(axisX, 0), "cap: radius is 0", "over 0 and below pi"},
		{cap(axisX, math.Pi), "cap: radius is 3.14", "over 0 and below pi"},
		{cap(axisX, nan), "cap: radius is NaN", "over 0 and below pi"},
		{lonLat(1, -1, 0, 1), "longitudes are [1, -1]", "least before the greatest"},
		{lonLat(0, 7, 0, 1), "longitudes are [0, 7]", "a turn between them"},
		{lonLat(7, 8, 0, 1), "longitudes are [7, 8]", "within a turn"},
		{lonLat(nan, 1, 0, 1), "longitudes are [NaN, 1]", "least before the greatest"},
		{lonLat(0, 1, 1, 1), "latitudes are [1, 1]", "least before the greatest"},
		{lonLat(0, 1, 0, 1.6), "latitudes are [0, 1.6]", "within a quarter turn"},
		{lonLat(0, 1, -inf, 1), "latitudes are [-Inf, 1]", "within a quarter turn"},
		{frame(axisX, axisX, axisZ), "ahead, side and pole", "at right angles"},
		{frame(axisX, r3.Vec{Y: 2}, axisZ), "ahead, side and pole", "unit directions"},
		{frame(axisX, axisY, r3.Vec{Z: nan}), "ahead, side and pole", "unit directions"},
		{polygon(a, b), "2 corners", "3 or more"},
		{polygon(a, b, r3.Vec{Y: nan}), "corner 2", "finite direction"},
		{polygon(r3.Vec{}, b, c), "corner 0", "non-zero length"},
		{polygon(a, b, b), "corners 1 and 2 are equal or opposite", "an arc between them"},
		{polygon(a, b, r3.Scale(-1, b)), "corners 1 and 2 are equal or opposite", "an arc between them"},
		{polygon(a, c, b, d), "corners 0 and 2 cross", "does not"},
		{polygon(a, b, c, polar(0.6, 1.5), polar(0.2, 1), d), "cross", "does not"},
		{polygon(polar(0.5, 0), polar(1, 0), polar(1.5, 0)), "sides at corner", "an angle between them"},
	} {
		require.ErrorContains(t, e.err, e.names)
		require.ErrorContains(t, e.err, "expected")
		require.ErrorContains(t, e.err, e.want)
	}
}
