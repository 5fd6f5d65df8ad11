package report

import (
	"bytes"
	"fmt"

	"github.com/pronate/pronate/internal/check"
)

// Check is the page that says what a character loses and what a split gives it.
type Check struct {
	Title    string
	Findings *check.Findings
	Sheets   []Picture // contact sheets
	Alike    int       // clips that they leave out, for both look alike
	Bones    Picture   // radius and twist along the bones
	Counts   Picture   // loss over the number of segments
}

var checkPage = page("check.html")

// NewCheck draws all that the page shows.
func NewCheck(title string, f *check.Findings) (Check, error) {
	c := Check{Title: title, Findings: f}
	c.Bones.Text = "Plots of radius and of twist along the bone, a row for each limb: how far each falls below rest, and whether the twist rises at one place or along the whole bone, of the source and split."
	c.Counts.Text = "Plots of what is lost over the number of segments, for linear-blend and dual-quaternion skinning."
	var err error
	if c.Sheets, c.Alike, err = ContactSheets(f); err != nil {
		return c, err
	}
	if len(f.Limbs) == 0 {
		return c, nil // nothing to plot
	}
	for _, theme := range []Theme{Light, Dark} {
		for _, p := range []struct {
			plot func(*check.Findings, Theme) (Plots, error)
			to   *Picture
		}{{PlotBones, &c.Bones}, {PlotCounts, &c.Counts}} {
			plots, err := p.plot(f, theme)
			if err != nil {
				return c, err
			}
			data, err := plots.PNG()
			if err != nil {
				return c, err
			}
			p.to.put(theme, data)
		}
	}
	return c, nil
}

func (p *Picture) put(theme Theme, data []byte) {
	if theme.isDark() {
		p.Dark = data
	} else {
		p.Light = data
	}
}

// HTML writes the page: one file, with its pictures inside, that needs neither
// a network nor scripts.
func (c Check) HTML() ([]byte, error) {
	var out bytes.Buffer
	if err := checkPage.Execute(&out, c); err != nil {
		return nil, fmt.Errorf("report: check: %w", err)
	}
	return out.Bytes(), nil
}
