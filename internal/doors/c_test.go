package doors

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
	"github.com/pronate/pronate/internal/fixture/touch"
	"github.com/stretchr/testify/require"
)

// inC has a C program make the limbs by pronate.h's struct and solve them.
func inC(t *testing.T, ask []limb) [][]answers {
	if runtime.GOOS != "linux" {
		t.Skip("the C library is tested on Linux")
	}
	needs(t, "gcc")
	touch.Files(t, "testdata/*.c")
	library := build(t, "cmd/libpronate", t.TempDir(), "libpronate.a", []string{"CGO_ENABLED=1"}, "-buildmode=c-archive")
	program := filepath.Join(t.TempDir(), "solve")
	output(t, exec.Command("gcc", "-std=c11", "-O2", "-Wall", "-Wextra", "-Werror", "-pedantic", "-I../../cmd/libpronate",
		"testdata/solve.c", library, "-lm", "-pthread", "-o", program))

	var text strings.Builder
	for _, l := range ask {
		writeForC(t, &text, l)
	}
	questions := filepath.Join(t.TempDir(), "questions.txt")
	require.NoError(t, os.WriteFile(questions, []byte(text.String()), 0o600))
	lines := strings.Split(strings.TrimSuffix(string(output(t, exec.Command(program, questions))), "\n"), "\n")

	// A line a segment: four numbers of float64 and four of float32.
	var out [][]answers
	for _, l := range ask {
		gave := make([]answers, len(l.Poses))
		for i := range gave {
			for range l.Segments {
				require.NotEmpty(t, lines)
				double, single, _ := strings.Cut(lines[0], ", ")
				lines = lines[1:]
				var d bits64
				var s bits32
				require.NoError(t, d.UnmarshalText([]byte(double)))
				require.NoError(t, s.UnmarshalText([]byte(single)))
				gave[i].Double, gave[i].Single = append(gave[i].Double, d), append(gave[i].Single, s)
			}
		}
		out = append(out, gave)
	}
	require.Empty(t, lines)
	return out
}

// writeForC writes a limb as solve.c reads it: keys with words, numbers, and after "poses" joint and tip of each.
func writeForC(t testing.TB, w *strings.Builder, l limb) {
	t.Helper()
	spec, err := engine.ParseSpec(l.Solver)
	require.NoError(t, err, l.Name)
	numbers := func(key string, x ...float64) {
		if !slices.ContainsFunc(x, func(x float64) bool { return x != 0 }) {
			return // left as pronate_limb_spec_init has it
		}
		fmt.Fprintf(w, "%s %d", key, len(x))
		for _, x := range x {
			fmt.Fprintf(w, " %.17g", x)
		}
		w.WriteByte('\n')
	}
	fmt.Fprintf(w, "limb\nsegments %d\n", spec.Segments)
	fmt.Fprintf(w, "twist %s\n", []string{chain.Own: "own", chain.Tip: "tip"}[spec.Twist])
	fmt.Fprintf(w, "ramp %s\n", []string{chain.Linear: "linear", chain.Smooth: "smooth"}[spec.Ramp])
	fmt.Fprintf(w, "field %s\n", []string{chain.AnyField: "any", chain.Shortest: "shortest", chain.Centred: "centred", chain.LeastRoll: "least_roll", chain.Balanced: "balanced"}[spec.Field])
	fmt.Fprintf(w, "centre_mode %s\n", []string{chain.Auto: "auto", chain.None: "none", chain.Given: "given"}[spec.CentreMode])
	fmt.Fprintf(w, "range %s\n", []string{engine.RangeNone: "none", engine.RangeHip: "hip", engine.RangeShoulder: "shoulder",
		engine.RangeWrist: "wrist", engine.RangeLimits: "limits"}[spec.Range])
	numbers("axis", spec.Axis[:]...)
	numbers("shares", spec.Shares...)
	numbers("tip_shares", spec.TipShares...)
	numbers("centre", spec.Centre[:]...)
	numbers("flexion_deg", spec.FlexionDeg[:]...)
	numbers("abduction_deg", spec.AbductionDeg[:]...)
	numbers("down", spec.Down[:]...)
	numbers("forward", spec.Forward[:]...)
	numbers("out", spec.Out[:]...)
	numbers("anchor_rest", spec.AnchorRest[:]...)
	numbers("joint_rest", spec.JointRest[:]...)
	numbers("tip_rest", spec.TipRest[:]...)
	fmt.Fprintf(w, "poses %d %d\n", len(l.Poses), l.Segments)
	for _, p := range l.Poses {
		tip := bits64{0, 0, 0, 1} // not read where the limb reads none
		if p.Tip != nil {
			tip = *p.Tip
		}
		for _, q := range []bits64{p.Joint, tip} {
			text, err := q.MarshalText()
			require.NoError(t, err)
			fmt.Fprintf(w, "%s\n", text)
		}
	}
}
