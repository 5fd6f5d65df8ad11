package report

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"slices"

	"github.com/pronate/pronate/chain/asset"
)

// Summary is the page that says what a split did.
type Summary struct {
	Title   string
	Lead    string
	Picture Picture
	Rolls   Picture // how root segments roll; may be empty
	Changes []Change
	Report  asset.Report
	Next    []Step
}

// Step is something to do next.
type Step struct{ Command, Why string }

var summaryPage = page("summary.html")

// HTML writes the page: one file, with its pictures inside, that needs neither
// a network nor scripts.
func (s Summary) HTML() ([]byte, error) {
	view := struct {
		Summary
		Limit float64
	}{s, SqueezeLimit}
	var out bytes.Buffer
	if err := summaryPage.Execute(&out, view); err != nil {
		return nil, fmt.Errorf("report: summary: %w", err)
	}
	return out.Bytes(), nil
}

// Crowded reports whether over a tenth of a vertex's weight found no influence
// free, which shows.
func Crowded(r asset.Report) bool {
	return slices.ContainsFunc(r.Limbs, func(l asset.LimbReport) bool { return l.WeightMovedMax > 0.1 })
}

// PNG encodes a picture.
func PNG(picture image.Image) ([]byte, error) {
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return out.Bytes(), nil
}
