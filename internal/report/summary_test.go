package report

import (
	"image"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

// The page is one file that asks for nothing from elsewhere and runs nothing,
// and names that come from a character's file cannot break out of its text.
func TestSummaryIsSelfContained(t *testing.T) {
	s := Summary{
		Title: "a <b> & c", Light: image.NewRGBA(image.Rect(0, 0, 2, 2)), Dark: image.NewRGBA(image.Rect(0, 0, 2, 2)),
		Changes: []Change{{Clip: "<script>alert(1)</script>", Before: 0.0123, After: 0.0004}},
		Report: asset.Report{
			Limbs:    []asset.LimbReport{{Name: "left thigh", Segments: []string{"a", "b"}, Length: 0.4165, TwistMax: 79.6, DroppedWeightMax: 0.00123}, {DroppedWeightMax: 0.11}},
			Clips:    []asset.ClipReport{{Name: "climb", KeysIn: 3, KeysOut: 2, ErrorMax: 0.0431}},
			Warnings: []string{"it flips"},
		},
		Next: []Step{{Command: "pronate plan", Why: "why not"}},
	}
	data, err := s.HTML()
	require.NoError(t, err)
	page := string(data)
	for _, want := range []string{
		"<!DOCTYPE html>", "a &lt;b&gt; &amp; c", "&lt;script&gt;alert(1)&lt;/script&gt;", "123 cm²", "4 cm²",
		"0.416 m", ">greatest twist<", ">80°<", "0.043°", "0.0012<", "--influences 8", "Mind: it flips.", "pronate plan", "no clinical", "prefers-color-scheme: dark", `src="data:image/png;base64,`, `srcset="data:image/png;base64,`,
	} {
		require.Contains(t, page, want)
	}
	for _, never := range []string{"<script", "http:", "https:", "<link", "@import"} {
		require.NotContains(t, page, never)
	}
	require.Equal(t, 2, strings.Count(page, "data:image/png"))
}
