package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

func TestCheckPrints(t *testing.T) {
	got := pronate(t, "", "check", wren(t))
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "better with segments")
	require.Regexp(t, `(?m)^left thigh\n(?:  .*\n)*  twist 90° +8\d\.\d % / +9\d\.\d % .* better: 8\d % to 9\d %$`, got.out)
	require.Contains(t, got.out, "  2 poses hold either way\n\nright thigh\n")
	require.Regexp(t, `(?m)^left upper arm +3 +shoulder +least_roll +80°$`, got.out)
	require.Contains(t, got.out, "knees and elbows: 4, all clean (twist and side-bend within 5 degrees)")
	require.Contains(t, got.out, "what to do next:")
	require.Empty(t, got.err)
	table, _, _ := strings.Cut(got.out, "\nwhat to do next:")
	_, table, _ = strings.Cut(table, "\n") // the verdict is no table
	for line := range strings.Lines(table) {
		require.Less(t, utf8.RuneCountInString(line), 120, line)
		require.NotRegexp(t, `-0(\.0+)?( %|°|$)`, line)
		require.NotRegexp(t, ` \n$`, line)
	}
}

// Poses that need no looking at are counted, but with --all.
func TestCheckAll(t *testing.T) {
	character := wren(t)
	rows := func(args ...string) int {
		got := pronate(t, "", append([]string{"check", character}, args...)...)
		require.Equal(t, exitDone, got.code, got.err)
		poses, _, _ := strings.Cut(got.out, "\nlimb ")
		return strings.Count(poses, " % /")
	}
	every := rows("--all")
	require.Equal(t, 2*56, every) // 56 poses, each with radius and volume
	few := rows()
	require.Less(t, few, every)
	require.Greater(t, few, every/2)
	require.NotContains(t, pronate(t, "", "check", character, "--all").out, "either way")
	require.Contains(t, pronate(t, "", "__complete", "check", "a.glb", "--a").out, "--all\tlist the poses")
}

// What was put in is in no clip, and bends have no steepest twist.
func TestCheckJSON(t *testing.T) {
	got := pronate(t, "", "check", wren(t), "--json")
	require.Equal(t, exitDone, got.code, got.err)
	require.NotContains(t, got.out, ": -0,")
	var found struct {
		Limbs []struct {
			Name, Field string
			Range       struct {
				Name    string
				Flexion []float64 `json:"flexion_deg"`
			}
		}
		Poses []struct {
			Kind  string
			Clip  *string
			Time  *float64 `json:"time_s"`
			Split struct {
				Steepest *float64 `json:"steepest_twist_deg"`
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &found))
	require.Equal(t, "hip", found.Limbs[0].Range.Name)
	require.Equal(t, []float64{-30, 120}, found.Limbs[0].Range.Flexion)
	require.Equal(t, "least_roll", found.Limbs[0].Field)
	require.Equal(t, "none", found.Limbs[5].Range.Name)
	require.Nil(t, found.Limbs[5].Range.Flexion)
	require.Equal(t, "shortest", found.Limbs[5].Field)
	for _, p := range found.Poses {
		require.Equal(t, p.Kind == "clip", p.Clip != nil)
		require.Equal(t, p.Kind == "clip", p.Time != nil)
		require.Equal(t, p.Kind != "range", p.Split.Steepest != nil)
	}
}

func TestCheckHelp(t *testing.T) {
	help := pronate(t, "", "check", "--help").out
	for _, want := range []string{"5 to 15 %", "within 5 degrees", "tradeoff ", "excursions ", "shortest, centred, least_roll or balanced", "--all"} {
		require.Contains(t, help, want)
	}
}

// skipPictures leaves a test out of the short run, which is the race detector's:
// drawing takes minutes under it, and internal/report's tests have it draw enough.
func skipPictures(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("draws many pictures")
	}
}

func TestCheckWritesAPage(t *testing.T) {
	skipPictures(t)
	folder := filepath.Join(t.TempDir(), "new")
	got := pronate(t, "", "check", wren(t), "-o", folder, "--json")
	require.Equal(t, exitDone, got.code, got.err)
	var found struct {
		Limbs, Poses, Tradeoff, Hinges, Folds []map[string]any
		Verdict                               string
		Advice, Files                         []string
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &found))
	require.Len(t, found.Limbs, 6)
	require.Len(t, found.Tradeoff, 30)
	require.Len(t, found.Folds, 4)
	require.Contains(t, found.Poses[0], "one_joint")
	for _, file := range found.Files {
		require.FileExists(t, file)
	}
	page, err := os.ReadFile(filepath.Join(folder, "check.html"))
	require.NoError(t, err)
	for _, want := range []string{"Check of wren.glb", found.Verdict, "high step at", "Knees and elbows", "Folds", "keeps 95 % of its radius", "off by more than 15 %", "neither is beyond 5 degrees", "<td>shoulder</td>", "<td>least_roll</td>", "no clinical", "prefers-color-scheme: dark"} {
		require.Contains(t, string(page), want)
	}
	require.NotContains(t, string(page), "poses looked at")
	require.NotRegexp(t, `>-0(\.0+)?( %|°|<)`, string(page))
	for _, never := range []string{"<script", "http:", "https:", "<link", "@import"} {
		require.NotContains(t, string(page), never)
	}
	for _, name := range []string{"check-1.png", "bones.png", "segments.png"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		_, err = png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
	}
	for name, columns := range map[string]int{"bones.csv": 9, "segments.csv": 8} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows[0], columns)
		require.Greater(t, len(rows), 20)
	}
}

func TestCheckRefuses(t *testing.T) {
	for _, c := range []struct {
		code int
		want string
		args []string
	}{
		{exitUsage, "check needs IN, the character to read", nil},
		{exitUsage, "--influences 5: expected 4 or 8", []string{wren(t), "--influences", "5"}},
		{exitUsage, "--weights bumpy: expected quadratic, hat or cubic", []string{wren(t), "--weights", "bumpy"}},
		{exitUsage, "--limbs - and IN - both want standard input", []string{"-", "--limbs", "-"}},
		{exitFailed, "no such file", []string{"/nowhere.glb"}},
	} {
		got := pronate(t, "", append([]string{"check"}, c.args...)...)
		require.Equal(t, c.code, got.code, c.args)
		require.Contains(t, got.err, c.want)
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		require.Empty(t, got.out)
	}
}

// A character that has been split already would be split twice.
func TestCheckOfASplitCharacter(t *testing.T) {
	split := filepath.Join(t.TempDir(), "split.glb")
	require.Equal(t, exitDone, pronate(t, "", "split", wren(t), "-o", split).code)
	got := pronate(t, "", "check", split)
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, "split")
}
