package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const csvColumnsOfRotation = "frame,rotation_x,rotation_y,rotation_z,rotation_w\n"

// swaying is line after line of a limb that sways and twists, in either format.
func swaying(lines int, asCSV bool) string {
	var out strings.Builder
	if asCSV {
		out.WriteString(csvColumnsOfRotation)
	}
	for i := range lines {
		s, c := math.Sincos(float64(i) / 7)
		if asCSV {
			fmt.Fprintf(&out, "%d,%v,%v,%v,%v\n", i, s, c/3, s*c, 1.0)
		} else {
			fmt.Fprintf(&out, `{"rotation":[%v,%v,%v,%v],"axis":[0,-1,%d],"shares":[0,0.5,1]}`+"\n", s, c/3, s*c, 1.0, i%3)
		}
	}
	return out.String()
}

// solveAll solves lines of swaying, by a limb where flags name one.
func solveAll(t testing.TB, in string, asCSV bool, limb ...string) {
	t.Helper()
	args := append([]string{"solve"}, limb...)
	if asCSV {
		args = append(args, "--csv")
	}
	switch {
	case len(limb) > 0: // which says what lines of JSON would
		in = regexp.MustCompile(`,"axis".*`).ReplaceAllString(in, "}")
	case asCSV:
		args = append(args, "--shares", "0,0.5,1")
	}
	if code := run(args, strings.NewReader(in), io.Discard, io.Discard); code != exitDone {
		t.Fatalf("exit code %d", code)
	}
}

// conversation hands out a line at a time, and notes before each what was answered.
type conversation struct {
	lines    []string
	out      *bytes.Buffer
	answered []int
}

func (c *conversation) Read(p []byte) (int, error) {
	c.answered = append(c.answered, strings.Count(c.out.String(), "\n"))
	if len(c.lines) == 0 {
		return 0, io.EOF
	}
	n := copy(p, c.lines[0])
	c.lines = c.lines[1:]
	return n, nil
}

func TestSolveAnswersBeforeItAsksForMore(t *testing.T) {
	for _, c := range []struct {
		lines []string
		args  []string
	}{
		{[]string{`{"rotation":[0,0,0,1]}` + "\n", `{"rotation":[0,1,0,1]}` + "\n"}, []string{"solve"}},
		{[]string{csvColumnsOfRotation, "1,0,0,0,1\n"}, []string{"solve", "--csv"}},
	} {
		var out bytes.Buffer
		talk := &conversation{lines: c.lines, out: &out}
		require.Equal(t, exitDone, run(c.args, talk, &out, io.Discard))
		require.Equal(t, []int{0, 1, 2}, talk.answered)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// Input without end must not be read on when nobody takes the answers.
func TestSolveStopsWhereAnswersCannotBeWritten(t *testing.T) {
	for _, asCSV := range []bool{false, true} {
		in := &io.LimitedReader{R: strings.NewReader(swaying(20000, asCSV)), N: 1 << 30}
		args := []string{"solve"}
		if asCSV {
			args = append(args, "--csv")
		}
		var messages bytes.Buffer
		require.Equal(t, exitFailed, run(args, in, fullDisk{}, &messages))
		require.Contains(t, messages.String(), "no space left")
		require.Greater(t, in.N, int64(1<<30)-(1<<18), "read on")
	}
}

// An empty list is an error whichever lines came before it, and lists of a line
// do not linger.
func TestSolveLinesStandAlone(t *testing.T) {
	got := pronate(t, strings.Join([]string{
		`{"rotation":[0,1,0,1],"tip":[0,1,0,1]}`,
		`{"rotation":[0,1,0,1],"tip":[0,1,0,1],"tip_shares":[]}`,
		`{"rotation":[0,1,0,1],"shares":[]}`,
		`{"tip":[0,1,0,1]}`,
		`{"rotation":[0,1,0,1]}`,
	}, "\n"), "solve")
	require.Equal(t, `{"line":2,"error":"tip_shares: 0 shares, expected 2"}
{"line":3,"error":"shares: 0 shares, expected 2"}
{"line":4,"error":"rotation is missing"}
`, got.err)
	lines := strings.Split(strings.TrimSpace(got.out), "\n")
	require.Len(t, lines, 2)
	require.NotContains(t, lines[1], "tip")
	require.Len(t, answer(t, lines[1]).Segments, 2)
}

// More specifications by turns than are kept are answered all the same.
func TestSolveManySpecifications(t *testing.T) {
	var in, want strings.Builder
	for range 2 {
		for i := range mostSolvers + 3 {
			line := fmt.Sprintf(`{"rotation":[0.1,0.2,0.3,1],"axis":[%d,1,0]}`+"\n", i)
			in.WriteString(line)
			want.WriteString(pronate(t, line, "solve").out)
		}
	}
	require.Equal(t, want.String(), pronate(t, in.String(), "solve").out)
}

// Time per line is ns/op over 10000.
func BenchmarkSolve(b *testing.B) {
	limbs := asFile(b, "limbs.yaml", limbsOfSolve)
	for _, asCSV := range []bool{false, true} {
		name := map[bool]string{false: "NDJSON", true: "CSV"}[asCSV]
		in := swaying(10000, asCSV)
		for by, limb := range map[string][]string{"": nil, " by a limb": {"--limbs", limbs, "--limb", "thigh_l", "--axis=0,-1,0"}} {
			b.Run(name+by, func(b *testing.B) {
				b.ReportAllocs()
				b.SetBytes(int64(len(in)))
				for b.Loop() {
					solveAll(b, in, asCSV, limb...)
				}
			})
		}
	}
}
