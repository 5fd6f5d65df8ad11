package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/pronate/pronate/chain/asset"
)

// whole measures the whole job, from a file to a file: ten minutes of a character of
// 60 joints at 60 keys a second, eight limbs of four segments. Each figure is the
// median of some runs, on the cores there are; the breakdown is CPU time, from a
// profile of such runs.
func whole(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("whole", flag.ContinueOnError)
	flags.SetOutput(out)
	runs := flags.Int("runs", 5, "how often each job is run; the median counts")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *runs < 1 || flags.NArg() > 0 {
		return errors.New("whole: expected -runs N, 1 or more, and no arguments")
	}
	folder, err := os.MkdirTemp("", "whole")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	b := wholeBench{folder: folder, runs: *runs, out: out}
	for _, step := range []func() error{b.write, b.first, b.breakdown, b.growth} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

type wholeBench struct {
	folder string
	runs   int
	out    io.Writer
}

// Parts of the clip that are measured: eighths of its frames.
var wholeEighths = []int{1, 2, 4, 8}

func (b *wholeBench) source(eighths int) string {
	return filepath.Join(b.folder, fmt.Sprintf("whole%d.glb", eighths))
}

// write makes the characters.
func (b *wholeBench) write() error {
	for _, eighths := range wholeEighths {
		data := wholeCharacter(wholeFrames * eighths / 8)
		if err := os.WriteFile(b.source(eighths), data, 0o644); err != nil {
			return err
		}
		if eighths == 8 {
			fmt.Fprintf(b.out, "%d keys of 60 joints, %.0f MB; %d cores\n\n", wholeFrames, float64(len(data))/1e6, runtime.GOMAXPROCS(0))
		}
	}
	return nil
}

// job is one whole job. The times are those of its three calls.
func (b *wholeBench) job(eighths int, limbs []asset.LimbSpec) (times [3]time.Duration, report asset.Report, err error) {
	runtime.GC()
	start := time.Now()
	lap := func(i int) {
		now := time.Now()
		times[i], start = now.Sub(start), now
	}
	source, err := asset.Open(b.source(eighths))
	if err != nil {
		return times, report, err
	}
	lap(0)
	split, report, err := asset.Split(source, asset.Options{Limbs: limbs, AsAsked: true})
	if err != nil {
		return times, report, err
	}
	lap(1)
	err = split.Save(filepath.Join(b.folder, "split.glb"))
	lap(2)
	return times, report, err
}

// medians runs a job some times: its calls' medians and that of the whole.
func (b *wholeBench) medians(eighths int, limbs []asset.LimbSpec) (calls [3]time.Duration, total time.Duration, err error) {
	var all [4][]time.Duration
	for range b.runs {
		times, _, err := b.job(eighths, limbs)
		if err != nil {
			return calls, 0, err
		}
		for i, t := range times {
			all[i] = append(all[i], t)
		}
		all[3] = append(all[3], times[0]+times[1]+times[2])
	}
	for i := range all {
		slices.Sort(all[i])
	}
	middle := b.runs / 2
	return [3]time.Duration{all[0][middle], all[1][middle], all[2][middle]}, all[3][middle], nil
}

func milliseconds(d time.Duration) float64 { return float64(d) / 1e6 }

// first is the first job of a process, which solves the fields of the joints' ranges,
// beside those after it, and beside a job that bakes nothing.
func (b *wholeBench) first() error {
	times, report, err := b.job(8, wholeLimbs(8, 4))
	if err != nil {
		return err
	}
	calls, total, err := b.medians(8, wholeLimbs(8, 4))
	if err != nil {
		return err
	}
	still, without, err := b.medians(8, wholeStill())
	if err != nil {
		return err
	}
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "8 limbs of 4 segments, ms\topen\tsplit\tsave\ttotal")
	line := func(name string, calls [3]time.Duration, total time.Duration) {
		fmt.Fprintf(table, "%s\t%.0f\t%.0f\t%.0f\t%.0f\n", name, milliseconds(calls[0]), milliseconds(calls[1]), milliseconds(calls[2]), milliseconds(total))
	}
	line("the first job of a process", times, times[0]+times[1]+times[2])
	line("jobs after it", calls, total)
	line("with limbs that stand still", still, without)
	table.Flush()
	clip := report.Clips[0]
	fmt.Fprintf(b.out, "%d keys drive the limbs, %d are baked, off by up to %.4f degrees between them\n", clip.KeysIn, clip.KeysOut, clip.ErrorMaxDeg)
	fmt.Fprintf(b.out, "baking takes %.0f %% of the time, reading, checking and writing the rest\n\n", 100*float64(total-without)/float64(total))
	return nil
}

// wholePhases are the parts of a job, told by the functions that do them: of a stack
// the outermost one that is listed counts.
var wholePhases = []struct {
	name      string
	ours      bool
	functions []string
}{
	{"read the file", false, []string{"os.ReadFile"}},
	{"parse and check", false, []string{"asset.(*File).decode"}},
	{"decode keys and skin", false, []string{"asset.(*File).evaluator", "asset.(*File).Evaluator", "asset.(*File).claimed"}},
	{"find limbs, solve fields", true, []string{"asset.(*finder).limb", "asset.(*finder).name", "asset.(*finder).warnings"}},
	{"hand weights over", true, []string{"asset.(*splitter).reweight", "asset.(*splitter).addSegments"}},
	{"sample and solve", true, []string{"asset.(*motion).traceFrom", "asset.(*splitter).begin"}},
	{"thin and measure", true, []string{"asset.(*splitter).finish"}},
	{"read back and check", false, []string{"asset.(*splitter).report", "asset.Decode"}},
	{"lay out and write", false, []string{"asset.newPatch", "asset.(*splitter).storeCurve", "asset.(*splitter).addChannels", "asset.(*patch).finish", "asset.encodeGLB", "asset.(*File).Save"}},
	{"collect garbage", false, []string{"runtime.gcBgMarkWorker", "runtime.bgsweep", "runtime.bgscavenge", "runtime.GC"}},
}

// phaseOf is the phase that a stack, innermost first, belongs to; -1 for none.
func phaseOf(functions []string) int {
	for _, function := range slices.Backward(functions) {
		if function == "github.com/pronate/pronate/chain/asset.Open" {
			continue // Decode counts as reading back in Split alone
		}
		for i, phase := range wholePhases {
			for _, f := range phase.functions {
				if strings.HasSuffix(function, "/"+f) || function == f {
					return i
				}
			}
		}
	}
	return -1
}

// breakdown tells where the CPU time of jobs goes.
func (b *wholeBench) breakdown() error {
	found, err := profiled(func() error {
		for range b.runs {
			if _, _, err := b.job(8, wholeLimbs(8, 4)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	spent, sum := make([]int64, len(wholePhases)+1), int64(0)
	for _, s := range found {
		phase := phaseOf(s.functions)
		if phase < 0 {
			phase = len(wholePhases)
		}
		spent[phase] += s.nanoseconds
		sum += s.nanoseconds
	}
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "jobs after the first\tms of CPU\tshare")
	ours := int64(0)
	line := func(name string, of int64) {
		fmt.Fprintf(table, "%s\t%.0f\t%.0f %%\n", name, float64(of)/1e6/float64(b.runs), 100*float64(of)/float64(max(sum, 1)))
	}
	for i, phase := range wholePhases {
		line(phase.name, spent[i])
		if phase.ours {
			ours += spent[i]
		}
	}
	line("the rest", spent[len(wholePhases)])
	line("all", sum)
	line("of it limbs: find, hand over, solve, thin", ours)
	table.Flush()
	fmt.Fprintln(b.out)
	return nil
}

// growth tells how the time grows with what is asked for.
func (b *wholeBench) growth() error {
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "ms\topen\tsplit\tsave\ttotal")
	line := func(name string, eighths, limbs, segments int) error {
		calls, total, err := b.medians(eighths, wholeLimbs(limbs, segments))
		if err == nil {
			fmt.Fprintf(table, "%s\t%.0f\t%.0f\t%.0f\t%.0f\n", name, milliseconds(calls[0]), milliseconds(calls[1]), milliseconds(calls[2]), milliseconds(total))
		}
		return err
	}
	for _, limbs := range []int{1, 2, 4, 8} {
		if err := line(fmt.Sprintf("%d limbs", limbs), 8, limbs, 4); err != nil {
			return err
		}
	}
	for _, segments := range []int{2, 4, 8} {
		if err := line(fmt.Sprintf("%d segments", segments), 8, 8, segments); err != nil {
			return err
		}
	}
	for _, eighths := range wholeEighths {
		if err := line(fmt.Sprintf("%d frames", wholeFrames*eighths/8), eighths, 8, 4); err != nil {
			return err
		}
	}
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for _, cores := range []int{1, 2} {
		runtime.GOMAXPROCS(cores)
		if err := line(fmt.Sprintf("%d cores", cores), 8, 8, 4); err != nil {
			return err
		}
	}
	return table.Flush()
}
