package report

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLine(t *testing.T) {
	picture := image.NewRGBA(image.Rect(0, 0, 40, 20))
	ink := Colour{1, 0, 0}
	line(picture, [2]float64{10, 10}, [2]float64{30, 10}, 4, ink)
	require.Equal(t, ink.RGBA8(), picture.RGBAAt(20, 10))
	require.Zero(t, picture.RGBAAt(20, 14).R)
	require.Zero(t, picture.RGBAAt(35, 10).R)
	// Without length it is a disc; beyond the picture it is cut off.
	line(picture, [2]float64{0, 0}, [2]float64{0, 0}, 6, ink)
	require.Equal(t, ink.RGBA8(), picture.RGBAAt(1, 1))
	require.Zero(t, picture.RGBAAt(4, 0).R)
}
