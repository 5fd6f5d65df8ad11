package report

import (
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

// The page is one file that asks for nothing from elsewhere and runs nothing,
// and names that come from a character's file cannot break out of its text.
func TestSummaryIsSelfContained(t *testing.T) {
	s := Summary{
		Title: "a <b> & c", Picture: Picture{[]byte("light"), []byte("dark"), "what \"it\" shows"}, Rolls: Picture{Light: []byte("rolls")},
		Changes: []Change{{Clip: "<script>alert(1)</script>", Before: 0.0123, After: 0.0004}},
		Report: asset.Report{
			Limbs:      []asset.LimbReport{{Name: "left thigh", Segments: []string{"a", "b"}, Length: 0.4165, TwistMaxDeg: 79.6, ClipKeyed: []bool{true}, WeightMovedMax: 0.0123}, {WeightMovedMax: 0.11}},
			Clips:      []asset.ClipReport{{Name: "climb", KeysIn: 3, KeysOut: 2, ErrorMaxDeg: 0.0431}},
			Warnings:   []string{"it flips"},
			Excursions: []asset.Excursion{{Clip: "climb", Limb: "left thigh", BeyondDeg: 12.3, Time: 1.5, FlexionDeg: 132.3}},
		},
		Next: []Step{{Command: "pronate plan", Why: "why not"}},
	}
	data, err := s.HTML()
	require.NoError(t, err)
	page := string(data)
	for _, want := range []string{
		"<!DOCTYPE html>", "a &lt;b&gt; &amp; c", "&lt;script&gt;alert(1)&lt;/script&gt;", "123 cm²", "4 cm²",
		"0.416 m", ">greatest twist<", ">80°<", "0.043°", ">1.2 %<", ">–<", ">weight moved<", "--influences 8", "Note: it flips.", "leaves its joint's range of motion, by 12° at 1.50 s (flexion 132°", `alt="what &#34;it&#34; shows"`, "pronate plan", "no clinical", "prefers-color-scheme: dark", `src="data:image/png;base64,`, `srcset="data:image/png;base64,`,
	} {
		require.Contains(t, page, want)
	}
	for _, never := range []string{"<script", "http:", "https:", "<link", "@import"} {
		require.NotContains(t, page, never)
	}
	require.Equal(t, 3, strings.Count(page, "data:image/png"))
}
