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

	"github.com/stretchr/testify/require"
)

func TestCheckPrints(t *testing.T) {
	got := pronate(t, "", "check", wren(t))
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "better with segments")
	require.Regexp(t, `(?m)^left thigh +twist 90° +8\d\.\d % +9\d\.\d %`, got.out)
	require.Contains(t, got.out, "knees and elbows: 4, all clean")
	require.Contains(t, got.out, "what to do next:")
	require.Empty(t, got.err)
}

func TestCheckWritesAPage(t *testing.T) {
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
	for _, want := range []string{"Check of wren.glb", found.Verdict, "high step at", "Knees and elbows", "Folds", "no clinical", "prefers-color-scheme: dark"} {
		require.Contains(t, string(page), want)
	}
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
