package report

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	red  = Colour{0.8, 0.05, 0.05}
	blue = Colour{0.05, 0.05, 0.8}
)

// square is a square across the z axis, facing +z.
func square(z, half float64, c Colour) Mesh {
	return Mesh{
		Positions: []r3.Vec{{X: -half, Y: -half, Z: z}, {X: half, Y: -half, Z: z}, {X: half, Y: half, Z: z}, {X: -half, Y: half, Z: z}},
		Triangles: [][3]int{{0, 1, 2}, {0, 2, 3}},
		Colours:   []Colour{c, c, c, c},
	}
}

func join(a, b Mesh) Mesh {
	n := len(a.Positions)
	a.Positions = append(a.Positions, b.Positions...)
	a.Colours = append(a.Colours, b.Colours...)
	for _, t := range b.Triangles {
		a.Triangles = append(a.Triangles, [3]int{t[0] + n, t[1] + n, t[2] + n})
	}
	return a
}

var front = Orbit(r3.Vec{}, 0, 0, 4, 2)

func reddish(m image.Image, x, y int) bool {
	r, _, b, _ := m.At(x, y).RGBA()
	return r > 2*b
}

func bluish(m image.Image, x, y int) bool {
	r, _, b, _ := m.At(x, y).RGBA()
	return b > 2*r
}

func TestRenderNearestWins(t *testing.T) {
	for _, m := range []Mesh{
		join(square(0.5, 0.4, red), square(-0.5, 0.8, blue)),
		join(square(-0.5, 0.8, blue), square(0.5, 0.4, red)),
	} {
		picture := Render(m, front, 60, 60, Light)
		require.True(t, reddish(picture, 30, 30))
		require.True(t, bluish(picture, 30, 11))
	}
}

func TestRenderBackgroundAndSize(t *testing.T) {
	for _, theme := range []Theme{Light, Dark} {
		picture := Render(square(0, 0.5, red), front, 50, 40, theme)
		require.Equal(t, image.Rect(0, 0, 50, 40), picture.Bounds())
		top, bottom := picture.RGBAAt(0, 0), picture.RGBAAt(0, 39)
		require.InDelta(t, theme.Top.RGBA8().R, top.R, 2)
		require.InDelta(t, theme.Bottom.RGBA8().R, bottom.R, 2)
		require.Equal(t, uint8(255), top.A)
	}
}

// A square of half width 0.5 in a parallel view 2 m high covers the middle half.
func TestRenderScale(t *testing.T) {
	camera := front
	camera.Perspective = false
	picture := Render(square(0.5, 0.5, red), camera, 80, 80, Light)
	for _, c := range []struct {
		x, y int
		in   bool
	}{{21, 40, true}, {18, 40, false}, {58, 40, true}, {61, 40, false}, {40, 21, true}, {40, 18, false}} {
		require.Equal(t, c.in, reddish(picture, c.x, c.y), "pixel %d %d", c.x, c.y)
	}
	// In perspective at 0.5 m nearer than the target's 4 m it is 4/3.5 as large:
	// its edge moves from 20 to 40 - 20*4/3.5 = 17.1.
	picture = Render(square(0.5, 0.5, red), front, 80, 80, Light)
	require.True(t, reddish(picture, 18, 40))
	require.False(t, reddish(picture, 16, 40))
}

func TestRenderHidesBacks(t *testing.T) {
	m := square(0, 0.5, red)
	for i, f := range m.Triangles {
		m.Triangles[i] = [3]int{f[0], f[2], f[1]}
	}
	require.False(t, reddish(Render(m, front, 40, 40, Light), 20, 20))
}

func TestRenderDropsWhatIsNotThere(t *testing.T) {
	m := join(square(0, 0.5, red), square(0.2, 0.3, blue))
	m.Positions[4].X = math.NaN() // spoils both blue triangles
	picture := Render(m, front, 40, 40, Light)
	require.True(t, reddish(picture, 20, 20))

	behind := Render(square(9, 0.5, red), front, 40, 40, Light)
	require.False(t, reddish(behind, 20, 20))
	require.NotPanics(t, func() { Render(Mesh{}, front, 8, 8, Light) })
}

func TestRenderWithoutColoursIsGrey(t *testing.T) {
	m := square(0, 0.5, red)
	m.Colours = nil
	c := Render(m, front, 40, 40, Light).RGBAAt(20, 20)
	require.InDelta(t, c.R, c.B, 12)
}

func TestRenderRepeats(t *testing.T) {
	m := join(square(0.5, 0.4, red), square(-0.5, 0.8, blue))
	require.Equal(t, Render(m, front, 40, 40, Dark).Pix, Render(m, front, 40, 40, Dark).Pix)
}

// What stands between the key light and a wall darkens the wall beside it.
func TestRenderShadow(t *testing.T) {
	camera := front
	camera.Perspective = false
	wall := square(-0.5, 1, Colour{0.5, 0.5, 0.5})
	plain := Render(wall, camera, 80, 80, Light)
	shaded := Render(join(wall, square(0.1, 0.2, blue)), camera, 80, 80, Light)
	// The light comes from above on the left: 0.6 m behind the square its shadow
	// is shifted right by 0.6*0.55/0.75 and down by 0.6.
	x, y := 40+18, 40+24 // 40 pixels a metre
	require.Less(t, float64(shaded.RGBAAt(x, y).R), 0.9*float64(plain.RGBAAt(x, y).R))
	require.InDelta(t, plain.RGBAAt(4, 4).R, shaded.RGBAAt(4, 4).R, 1)
}

func TestNormals(t *testing.T) {
	// The corner of a cube, however its faces are split, points along the diagonal.
	positions := []r3.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}, {X: 1, Y: 1}, {Y: 1, Z: 1}, {X: 1, Z: 1}, {X: 5}}
	faces := [][3]int{{0, 2, 4}, {0, 4, 1}, {0, 3, 2}, {3, 5, 2}, {0, 1, 6}, {0, 6, 3}}
	n := Normals(positions, faces)
	want := -1 / math.Sqrt(3)
	require.InDelta(t, want, n[0].X, 1e-12)
	require.InDelta(t, want, n[0].Y, 1e-12)
	require.InDelta(t, want, n[0].Z, 1e-12)
	require.Equal(t, r3.Vec{}, n[7], "a vertex without faces")
}

func TestColourRoundTrip(t *testing.T) {
	for v := range 256 {
		c := Light.Ink
		c.R, c.G, c.B = uint8(v), uint8(255-v), uint8(v/2)
		require.Equal(t, c, FromColor(c).RGBA8())
	}
	require.Equal(t, uint8(0), Colour{math.NaN(), -1, 0}.RGBA8().R)
	require.Equal(t, uint8(255), Colour{2, 0, 0}.RGBA8().R)
}
