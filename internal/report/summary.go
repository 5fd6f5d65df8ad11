package report

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/png"

	"github.com/pronate/pronate/chain/asset"
)

// Summary is the page that says what a split did.
type Summary struct {
	Title       string
	Lead        string
	Light, Dark image.Image // the same picture for either kind of page; Dark may be nil
	PictureText string      // what the picture shows, in words
	Changes     []Change
	Report      asset.Report
	Next        []Step
}

// Step is something to do next.
type Step struct{ Command, Why string }

//go:embed summary.html
var summaryText string

var summaryPage = template.Must(template.New("summary").Funcs(template.FuncMap{
	"percent": Percent,
	"area":    func(squareMetres float64) string { return fmt.Sprintf("%.0f cm²", squareMetres*1e4) },
}).Parse(summaryText))

// HTML writes the page: one file, with its pictures inside, that needs neither
// a network nor scripts.
func (s Summary) HTML() ([]byte, error) {
	view := struct {
		Summary
		Picture, PictureDark template.URL
		Limit                float64
	}{Summary: s, Limit: SqueezeLimit}
	var err error
	if view.Picture, err = inline(s.Light); err != nil {
		return nil, err
	}
	if s.Dark != nil {
		if view.PictureDark, err = inline(s.Dark); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	if err := summaryPage.Execute(&out, view); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return out.Bytes(), nil
}

// PNG encodes a picture.
func PNG(picture image.Image) ([]byte, error) {
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return out.Bytes(), nil
}

// inline is a picture as an address that holds it. It is our own PNG, so the
// template may trust it.
func inline(picture image.Image) (template.URL, error) {
	data, err := PNG(picture)
	if err != nil {
		return "", err
	}
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(data)), nil
}
