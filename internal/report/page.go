package report

import (
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"
)

//go:embed page.css parts.html summary.html check.html
var pages embed.FS

// Picture is a picture for either kind of page, as PNG.
type Picture struct {
	Light, Dark []byte // Dark may be nil
	Text        string // what it shows, in words
}

// page parses a page's template. A page is one file, with its pictures inside,
// that needs neither a network nor scripts.
func page(name string) *template.Template {
	style, err := pages.ReadFile("page.css")
	if err != nil {
		panic(err) // it is embedded
	}
	return template.Must(template.New(name).Funcs(template.FuncMap{
		"style": func() template.CSS { return template.CSS(style) },
		// The addresses are our own PNGs, so the template may trust them.
		"src":     func(data []byte) template.URL { return template.URL(inline(data)) },
		"srcset":  func(data []byte) template.Srcset { return template.Srcset(inline(data)) },
		"percent": Percent,
		"figure":  func(decimals int, x float64) string { return Figure(x, decimals) },
		"degrees": func(decimals int, x float64) string { return withUnit(x, decimals, "°") },
		"crowded": Crowded,
		"area":    func(squareMetres float64) string { return fmt.Sprintf("%.0f cm²", squareMetres*1e4) },
		"part":    part,
		"strain":  func(x float64) string { return withUnit(100*x, 3, " %") },
	}).ParseFS(pages, name, "parts.html"))
}

// part is what is left of something, in per cent to a tenth.
func part(of float64) string {
	return withUnit(100*of, 1, " %")
}

func withUnit(x float64, decimals int, unit string) string {
	if text := Figure(x, decimals); text != missing {
		return text + unit
	}
	return missing
}

// missing stands for what is not defined.
const missing = "–"

// Figure writes a number to so many decimals, never as -0.
func Figure(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return missing
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// inline is a PNG as an address that holds it.
func inline(data []byte) string {
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(data)
}
