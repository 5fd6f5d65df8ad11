package report

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWrap(t *testing.T) {
	p, err := newPen(14, false, Light.Ink)
	require.NoError(t, err)
	text := "the twist fades from the elbow to the wrist"
	lines := p.wrap(text, 120)
	require.Greater(t, len(lines), 1)
	require.Equal(t, text, strings.Join(lines, " "))
	for _, l := range lines {
		require.LessOrEqual(t, p.width(l), 120)
	}
	require.Equal(t, []string{"a", "b"}, p.wrap("a\nb", 1000))
	require.Equal(t, []string{"unbreakable"}, p.wrap("unbreakable", 1))
}

func TestSheetLaysOutPanels(t *testing.T) {
	picture := Render(square(0, 0.5, red), front, 100, 80, Light)
	sheet := Sheet{
		Title:   "Wren",
		Columns: 2,
		Panels:  []Panel{{picture, "one", ""}, {picture, "two", "a note"}, {picture, "three", ""}},
		Legend:  &Legend{Scale: NewScale(0.3), Label: "loss of radius", Note: strings.Repeat("how to read it ", 30)},
		Theme:   Light,
	}
	out, err := sheet.Compose()
	require.NoError(t, err)
	require.Equal(t, 2*100+3*margin, out.Bounds().Dx())

	// Three pictures: in the first row side by side, the third below the first.
	found := 0
	for y := range out.Bounds().Dy() {
		for _, x := range []int{margin + 50, 2*margin + 150} {
			if reddish(out, x, y) && !reddish(out, x, y-1) {
				found++
			}
		}
	}
	// The legend's bar passes through red below the first column too.
	require.GreaterOrEqual(t, found, 3)

	ink := 0
	for y := range out.Bounds().Dy() {
		for x := range out.Bounds().Dx() {
			if out.RGBAAt(x, y) == Light.Ink {
				ink++
			}
		}
	}
	require.Greater(t, ink, 50, "title and captions")

	again, err := sheet.Compose()
	require.NoError(t, err)
	require.Equal(t, out.Pix, again.Pix)
}

func TestSheetWithoutPanels(t *testing.T) {
	_, err := Sheet{}.Compose()
	require.EqualError(t, err, "report: sheet without panels")
}

func TestSheetKeepsPictureOrigin(t *testing.T) {
	whole := Render(square(0, 0.9, blue), front, 100, 100, Dark)
	part := whole.SubImage(image.Rect(30, 30, 70, 70))
	out, err := Sheet{Panels: []Panel{{part, "", ""}}, Theme: Dark}.Compose()
	require.NoError(t, err)
	require.Equal(t, whole.RGBAAt(50, 50), out.RGBAAt(margin+20, margin+20))
}

func TestPercent(t *testing.T) {
	for want, fraction := range map[string]float64{"0 %": 0, "7.5 %": 0.075, "30 %": 0.3, "100 %": 1, "-5 %": -0.05} {
		require.Equal(t, want, Percent(fraction))
	}
}
