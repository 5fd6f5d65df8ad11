package report

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
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

// Picture is a picture for either kind of page, as PNG.
type Picture struct {
	Light, Dark []byte // Dark may be nil
	Text        string // what it shows, in words
}

// Step is something to do next.
type Step struct{ Command, Why string }

//go:embed summary.html
var summaryText string

var summaryPage = template.Must(template.New("summary").Funcs(template.FuncMap{
	"percent": Percent,
	"crowded": Crowded,
	// The addresses are our own PNGs, so the template may trust them.
	"src":    func(data []byte) template.URL { return template.URL(inline(data)) },
	"srcset": func(data []byte) template.Srcset { return template.Srcset(inline(data)) },
	"area":   func(squareMetres float64) string { return fmt.Sprintf("%.0f cm²", squareMetres*1e4) },
}).Parse(summaryText))

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
	return slices.ContainsFunc(r.Limbs, func(l asset.LimbReport) bool { return l.DroppedWeightMax > 0.1 })
}

// PNG encodes a picture.
func PNG(picture image.Image) ([]byte, error) {
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return out.Bytes(), nil
}

// inline is a PNG as an address that holds it.
func inline(data []byte) string {
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(data)
}
