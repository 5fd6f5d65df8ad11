package library

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// shelf is a folder of some small characters.
func shelf(t *testing.T, count int) string {
	t.Helper()
	folder := t.TempDir()
	for i := range count {
		c, err := fixture.Build(fixture.Options{RingsPerBone: 2, Sides: 3, KeysPerSecond: 1, Clips: []string{fmt.Sprintf("wild %d", i+1)}})
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, fmt.Sprintf("%02d.glb", i)), c.Data, 0o644))
	}
	return folder
}

// quick splits one limb, without a range of motion to look at.
var quick = Options{Split: asset.Options{Limbs: []asset.LimbSpec{{Joint: "thigh_l", End: asset.End{Joint: "shin_l"}, Range: asset.Range{Name: "none"}}}}}

func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		require.NoError(t, err)
		files[e.Name()] = string(data)
	}
	return files
}

// Stopped after any number of files and gone on with, a run ends as an
// undisturbed one; and the record on disk has each file by the time it is done.
func TestStoppedRunGoesOn(t *testing.T) {
	const count = 6
	in := shelf(t, count)
	jobs, failed, err := Plan([]string{in}, filepath.Join(t.TempDir(), "whole"))
	require.NoError(t, err)
	require.Empty(t, failed)
	require.Len(t, jobs, count)
	whole := filepath.Dir(jobs[0].Output)
	_, err = Run(context.Background(), whole, jobs, quick)
	require.NoError(t, err)
	for stopAfter := range count {
		for _, workers := range []int{1, 3} {
			out := t.TempDir()
			jobs, _, err := Plan([]string{in}, out)
			require.NoError(t, err)
			ctx, stop := context.WithCancel(context.Background())
			if stopAfter == 0 {
				stop()
			}
			done := 0
			results, err := Run(ctx, out, jobs, Options{Split: quick.Split, Workers: workers, Done: func(r Result) {
				require.Equal(t, Split, r.Status, "%v", r.Err)
				data, err := os.ReadFile(filepath.Join(out, RecordName))
				require.NoError(t, err)
				var recorded recordFile
				require.NoError(t, json.Unmarshal(data, &recorded))
				require.Contains(t, recorded.Files, filepath.Base(r.Output))
				if done++; done == stopAfter {
					stop()
				}
			}})
			stop()
			require.NoError(t, err)
			left := 0
			for _, r := range results {
				if r.Status == Left {
					left++
				}
			}
			require.Equal(t, count, done+left)
			require.GreaterOrEqual(t, done, stopAfter)
			// Those under way, and one for the coin that a select tosses between a
			// free worker and the end.
			require.LessOrEqual(t, done, stopAfter+workers)

			results, err = Run(context.Background(), out, jobs, Options{Split: quick.Split, Workers: workers})
			require.NoError(t, err)
			again := 0
			for _, r := range results {
				if r.Status == Split {
					again++
				}
			}
			require.Equal(t, left, again)
			require.Equal(t, contents(t, whole), contents(t, out))
		}
	}
}

// Another program, another limb file or another option is another shape.
func TestShapesDiffer(t *testing.T) {
	seen := map[string]int{}
	for i, o := range []Options{
		{}, {Program: "v1"}, {Limbs: []byte{}}, {Limbs: []byte("version: 1")},
		{Split: asset.Options{Basis: 1}}, {Split: asset.Options{Influences: 8}}, {Split: asset.Options{Tolerance: 0.1}},
		{Split: asset.Options{History: true}}, {Split: asset.Options{Names: "{joint}{n}"}},
	} {
		shape, err := o.shape()
		require.NoError(t, err)
		require.NotContains(t, seen, shape, "%d", i)
		seen[shape] = i
	}
	same, err := Options{Workers: 7}.shape()
	require.NoError(t, err)
	require.Contains(t, seen, same, "workers shape nothing")
}

// A file that makes a split panic fails alone.
func TestPanicFailsOneFile(t *testing.T) {
	in := shelf(t, 1)
	jobs, _, err := Plan([]string{in}, t.TempDir())
	require.NoError(t, err)
	_, _, err = guarded(jobs[0], func() (entry, *asset.Report, error) { panic("slip\n") })
	require.EqualError(t, err, jobs[0].Source+": malformed in a way no check foresaw: slip\n")
}

// A record that cannot be written ends the run: nothing could be gone on with.
func TestRecordThatCannotBeWritten(t *testing.T) {
	in, out := shelf(t, 4), t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(out, RecordName), 0o755))
	jobs, _, err := Plan([]string{in}, out)
	require.NoError(t, err)
	_, err = Run(context.Background(), out, jobs, quick)
	require.ErrorContains(t, err, RecordName)
}
