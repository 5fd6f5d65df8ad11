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
	require.Regexp(t, `^In 4 clips of the character: \d better, 0 worse, \d same\.\nIn \d+ synthetic poses: \d+ better, 0 worse, \d+ same\.\n`, got.out)
	require.Regexp(t, `(?m)^synthetic poses: left thigh\n(?:  .*\n)*  twist -?90° +[.\d]+ % / +[.\d]+ % +8\d\.\d % / +9\d\.\d % .* better: strain -\d+ %`, got.out)
	require.Less(t, strings.Index(got.out, "\nclips: "), strings.Index(got.out, "\nsynthetic poses: "))
	require.Regexp(t, `(?m)^left upper arm +\d +shoulder +\w+ +\d\d° +9\d\.\d % +9\d\.\d %$`, got.out)
	require.Contains(t, got.out, "knees and elbows: 4, all clean (twist and side-bend within 5 degrees)")
	require.Contains(t, got.out, "what to do next:")
	require.Empty(t, got.err)
	table, _, _ := strings.Cut(got.out, "\nwhat to do next:")
	_, table, _ = strings.Cut(table, "\n\n") // the verdicts are no table
	for line := range strings.Lines(table) {
		require.Less(t, utf8.RuneCountInString(line), 180, line)
		require.NotRegexp(t, `-0(\.0+)?( %|°|$)`, line)
		require.NotRegexp(t, ` \n$`, line)
	}
}

// Poses that are the same are counted, unless --all lists them.
func TestCheckAll(t *testing.T) {
	character := wren(t)
	rows := func(args ...string) int {
		got := pronate(t, "", append([]string{"check", character}, args...)...)
		require.Equal(t, exitDone, got.code, got.err)
		poses, _, _ := strings.Cut(got.out, "\nlimb ")
		return strings.Count(poses, " % /")
	}
	every, few := rows("--all"), rows()
	require.Less(t, few, every)
	require.Greater(t, few, 3*4) // the best three of most limbs
	require.NotContains(t, pronate(t, "", "check", character, "--all").out, "not listed")
	require.Contains(t, pronate(t, "", "__complete", "check", "a.glb", "--a").out, "--all\tlist all poses")
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
				Strain   *float64
				Steepest *float64 `json:"steepest_twist_deg"`
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &found))
	require.Equal(t, "hip", found.Limbs[0].Range.Name)
	require.Equal(t, []float64{-30, 120}, found.Limbs[0].Range.Flexion)
	require.NotEmpty(t, found.Limbs[0].Field)
	for _, p := range found.Poses {
		require.Equal(t, p.Kind == "clip", p.Clip != nil)
		require.Equal(t, p.Kind == "clip", p.Time != nil)
		require.NotNil(t, p.Split.Strain)
		require.False(t, p.Kind == "range" && p.Split.Steepest != nil)
	}
}

func TestCheckHelp(t *testing.T) {
	help := pronate(t, "", "check", "--help").out
	for _, want := range []string{"worse if any of its frames", "within 5 degrees", "tradeoff ", "excursions ", "not_split ", "--all"} {
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
		Limbs, Poses, Tradeoff, Hinges, Folds, Advice []map[string]any
		NotSplit                                      []map[string]string `json:"not_split"`
		ClipsVerdict                                  string              `json:"clips_verdict"`
		Files                                         []string
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &found))
	require.Equal(t, 6, len(found.Limbs)+len(found.NotSplit))
	require.Len(t, found.Tradeoff, 6*len(found.Limbs))
	require.NotEmpty(t, found.Advice)
	require.Contains(t, found.Advice[0], "set")
	require.Len(t, found.Folds, 4)
	require.Contains(t, found.Poses[0], "source")
	for _, file := range found.Files {
		require.FileExists(t, file)
	}
	page, err := os.ReadFile(filepath.Join(folder, "check.html"))
	require.NoError(t, err)
	for _, want := range []string{"Check of wren.glb", found.ClipsVerdict, "high step at", "Knees and elbows", "Self-intersection", "by more than 3 %", "neither is beyond 5 degrees", "<td>shoulder</td>", "no clinical", "prefers-color-scheme: dark"} {
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
