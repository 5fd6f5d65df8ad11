package main

import (
	"encoding/csv"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// answer reads one line of solve's output.
func answer(t *testing.T, line string) (a solved) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(line), &a), line)
	return a
}

// (x, y, z, w) = (2, 3, 4, 1)/sqrt(30): twists of 143.130102354156 degrees
// about Y with a swing of 109.471220634491 (Dobrowolski 2015's split, worked
// out in double precision and checked with scipy).
func TestSolvePublishedSplit(t *testing.T) {
	got := pronate(t, `{"rotation":[2,3,4,1],"shares":[0,0.5,1]}`+"\n", "solve")
	require.Equal(t, exitDone, got.code, got.err)
	a := answer(t, got.out)
	require.InDelta(t, 143.130102354156, *a.Twist, 1e-9)
	require.InDelta(t, 0.5773502691896258, a.Condition, 1e-15) // cos of half 109.47 degrees
	require.Len(t, a.Segments, 3)
	for i := range a.Swing { // worked out apart
		require.InDelta(t, a.Swing[i], a.Segments[0][i], 4e-15)
	}
	for i, x := range []float64{2, 3, 4, 1} {
		require.InDelta(t, x/5.477225575051661, a.Segments[2][i], 1e-14)
	}
	require.NotContains(t, got.out, "tip_twist_deg")
}

func TestSolveTip(t *testing.T) {
	got := pronate(t, `{"rotation":[0,0,0,1],"tip":[0,1,0,1],"shares":[1,1,1],"tip_shares":[0,0.25,1]}`, "solve", "--local")
	require.Equal(t, exitDone, got.code, got.err)
	a := answer(t, got.out)
	require.InDelta(t, 90, **a.TipTwist, 1e-12)
	require.Equal(t, [4]float64{0, 0, 0, 1}, a.Segments[0])
	require.InDelta(t, 0.7071067811865476, a.Segments[2][1], 1e-15)
}

func TestSolveUndefinedTwistIsNull(t *testing.T) {
	got := pronate(t, `{"rotation":[1,0,0,0]}`, "solve")
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, `"twist_deg":null`)
	got = pronate(t, `{"rotation":[0,0,0,1],"tip":[1,0,0,0]}`, "solve")
	require.Contains(t, got.out, `"twist_deg":0,"tip_twist_deg":null`)
	got = pronate(t, "rotation_x,rotation_y,rotation_z,rotation_w,tip_x,tip_y,tip_z,tip_w\n0,0,0,1,1,0,0,0\n", "solve", "--csv")
	require.Contains(t, got.out, "\n0,1,,0,0,0,1,")
}

func TestSolveWritesNoNegativeZero(t *testing.T) {
	in := `{"rotation":[-0.0,-0.0,-0.0,-1],"axis":[0,-1,0],"tip":[-0.0,-0.0,-0.0,-1]}`
	for _, args := range [][]string{{"solve"}, {"solve", "--local"}} {
		got := pronate(t, in, args...)
		require.Equal(t, exitDone, got.code, got.err)
		require.NotContains(t, got.out, "-0")
	}
}

func TestSolveErrorsAreInOurWords(t *testing.T) {
	for in, want := range map[string]string{
		`{}`:                         "rotation is missing",
		`{"rotation":null}`:          "rotation is missing",
		`{"rotation":[0,0,null,1]}`:  "rotation: expected a list of numbers, found null in it",
		`{"rotation":"x"}`:           "rotation: expected a list of numbers",
		`{"rotation":[0,0,"0",1]}`:   "rotation: expected a list of numbers",
		`{"rotation":[0,0,0,1e999]}`: "rotation: number 1e999 is too large",
		`{"rot":[0,0,0,1]}`:          `unknown field \"rot\", expected one of rotation, axis, shares, centre, tip, tip_shares`,
		`nonsense`:                   `no JSON object, expected one such as {\"rotation\":[0,0,0,1]}`,
		`{"rotation":[0,0,0,1],}`:    `no JSON object: malformed at character 23, expected one such as {\"rotation\":[0,0,0,1]}`,
		`{"rotation":[0,0,0,1],"tip":[0,0,0,1],"tip_shares":[0,0.5,1]}`: "tip_shares: 3 shares, expected 2",
		`{"rotation":[0,0,0,1],"tip":[0,0,0,1],"tip_shares":[0,2]}`:     "tip_shares: tip_shares[1] = 2, expected 0 to 1",
		`[0,0,0,1]`:                           "expected one JSON object, found array",
		`{"rotation":[0,0`:                    "expected one JSON object, found the beginning of one",
		`{"rotation":[0,0,0,1]} ]`:            "expected one JSON object a line, found more",
		`{"rotation":[0,0,0,1],"shares":[0]}`: "segments is 1, expected 2 to 32",
	} {
		got := pronate(t, in, "solve")
		require.Equal(t, exitFailed, got.code)
		require.Equal(t, `{"line":1,"error":"`+want+`"}`+"\n", got.err)
	}
}

func TestSolveHelpShowsPlainDefaults(t *testing.T) {
	help := pronate(t, "", "solve", "--help").out
	require.Regexp(t, `--axis numbers +long axis of the bone at rest \(default 0,1,0\)\n`, help)
	require.NotContains(t, help, "(default )")
	require.NotContains(t, help, "[]")
}

// What solve reads and writes is documented in its help, every field in a line of
// its own.
func TestSolveHelpNamesEveryField(t *testing.T) {
	help := pronate(t, "", "solve", "--help").out
	for _, kind := range []reflect.Type{reflect.TypeFor[solveLine](), reflect.TypeFor[solved]()} {
		for i := range kind.NumField() {
			name, _, _ := strings.Cut(kind.Field(i).Tag.Get("json"), ",")
			require.Regexp(t, `\n  `+name+` +[a-z0]`, help)
		}
	}
	csvOut := pronate(t, "rotation_x,rotation_y,rotation_z,rotation_w,tip_x,tip_y,tip_z,tip_w\n", "solve", "--csv").out
	for _, column := range strings.Split(strings.TrimSpace(csvOut), ",") {
		if !strings.HasPrefix(column, "segment2_") { // "…"
			require.Contains(t, help, column)
		}
	}
}

// A bad line is told by number; the rest goes on; the exit code says so.
func TestSolveBadLines(t *testing.T) {
	in := strings.Join([]string{
		`{"rotation":[0,0,0,1]}`,
		`{"rotation":[0,0,1]}`,
		``,
		`{"rotation":[0,0,0,0]}`,
		`{"rotation":[0,0,0,1],"shares":[0,7]}`,
		`{"rotation":[0,0,0,1],"sahres":[0,1]}`,
		`{"rotation":[0,0,0,1],"tip_shares":[0,1]}`,
		`{"rotation":[0,0,0,1]} {}`,
		`nonsense`,
		`{"rotation":[0,0,0,1e999]}`,
		strings.Repeat(" ", longestLine) + `{}`,
		`{"rotation":[0,1,0,1]}`,
	}, "\n")
	got := pronate(t, in, "solve")
	require.Equal(t, exitFailed, got.code)
	require.Equal(t, 2, strings.Count(got.out, "\n"))
	var lines []int
	for _, text := range strings.Split(strings.TrimSpace(got.err), "\n") {
		var e struct {
			Line  int
			Error string
		}
		require.NoError(t, json.Unmarshal([]byte(text), &e), text)
		require.NotEmpty(t, e.Error)
		lines = append(lines, e.Line)
	}
	require.Equal(t, []int{2, 4, 5, 6, 7, 8, 9, 10, 11}, lines)
}

func TestSolveCSV(t *testing.T) {
	in := "time,rotation_w,rotation_x,rotation_y,rotation_z\n0.5,1,0,1,0\n0.6,1,0,x,0\n0.7,1,0,0\n0.8,0,1,0,0\n"
	got := pronate(t, in, "solve", "--csv", "--shares", "0,1")
	require.Equal(t, exitFailed, got.code)
	rows, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	require.Equal(t, "time,twist_deg,condition,swing_x,swing_y,swing_z,swing_w,segment1_x,segment1_y,segment1_z,segment1_w,segment2_x,segment2_y,segment2_z,segment2_w", strings.Join(rows[0], ","))
	require.Equal(t, "0.5", rows[1][0])
	require.Regexp(t, `^(90|89\.9999|90\.0000)`, rows[1][1])
	require.Equal(t, "", rows[2][1], "undefined twist")
	require.Contains(t, got.err, `{"line":3,"error":"rotation_y is \"x\", expected a number"}`)
	require.Contains(t, got.err, `{"line":4,`)
}

func TestSolveCSVHeader(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", "no header line"},
		{"a,b\n", "line 1: expected the columns rotation_x, rotation_y, rotation_z, rotation_w, found a, b"},
		{"\n\"a\n", "line 2: "},
		{"rotation_x;rotation_y;rotation_z;rotation_w\n", `line 1: expected commas between the columns, found ";"`},
		{"rotation_x\trotation_y\trotation_z\trotation_w\n", `line 1: expected commas between the columns, found "\t"`},
		{"swing_x,rotation_x,rotation_y,rotation_z,rotation_w\n", `column "swing_x" is one that solve writes`},
		{"rotation_x,rotation_y,rotation_z,rotation_w,tip_x\n", "or none"},
		{"a,a,rotation_x,rotation_y,rotation_z,rotation_w\n", `column "a" stands twice`},
	} {
		got := pronate(t, c.in, "solve", "--csv")
		require.Equal(t, exitFailed, got.code)
		require.Contains(t, got.err, c.want)
	}
}

// A byte-order mark and spaces after commas do no harm, and a stray quote costs
// its own line only.
func TestSolveCSVTolerates(t *testing.T) {
	in := "\uFEFFname, rotation_x, rotation_y, rotation_z, rotation_w\r\n" +
		"a, 0, 0, 0, 1\r\n" +
		"\"b, 0, 0, 0, 1\r\n" +
		"\"c, d\", 0, 0, 0 , 1\r\n" +
		strings.Repeat("x", longestLine) + "\n" +
		"e, 0, 0, 0, 1"
	got := pronate(t, in, "solve", "--csv")
	require.Equal(t, exitFailed, got.code)
	rows, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	var names []string
	for _, row := range rows {
		names = append(names, row[0])
	}
	require.Equal(t, []string{"name", "a", "c, d", "e"}, names)
	require.Equal(t, 2, strings.Count(got.err, "\n"))
	require.Contains(t, got.err, `{"line":3,`)
	require.Contains(t, got.err, `{"line":5,`)
}

// Whatever comes in, every line of standard error is a JSON object, every line
// of standard output an answer, and nothing panics; with a limb or without.
func FuzzSolve(f *testing.F) {
	limbs := asFile(f, "limbs.yaml", limbsOfSolve)
	by := [][]string{nil, {"--limbs", limbs, "--limb", "thigh_l", "--axis=0,-1,0"}, {"--limbs", limbs, "--limb", "forearm_l"}}
	f.Add(`{"rotation":[0,0,0,1]}`, false, uint8(0))
	f.Add("{\"rotation\":[0,0,0,1],\"tip\":[0,1,0,1]}\n{\"rotation\":[1,0,0,1]}\n", false, uint8(1))
	f.Add("{\"rotation\":[0,0,0,1],\"tip\":[0,1,0,1]}\n{\"rotation\":[1,0,0,1]}\n", false, uint8(2))
	f.Add("{\"rotation\":[0,0,0,1],\"tip\":[0,1,0,1],\"tip_shares\":[0,1],\"centre\":[1,1,0]}\n[]\n", false, uint8(0))
	f.Add("rotation_x", false, uint8(2))
	f.Add("rotation_x,rotation_y,rotation_z,rotation_w,tip_x,tip_y,tip_z,tip_w\n0,0,0,1,1,2,3,4\n\"", true, uint8(2))
	f.Fuzz(func(t *testing.T, in string, asCSV bool, limb uint8) {
		args := append([]string{"solve"}, by[int(limb)%len(by)]...)
		if asCSV {
			args = append(args, "--csv")
		}
		got := pronate(t, in, args...)
		if asCSV {
			return
		}
		for _, line := range strings.Split(strings.TrimSpace(got.out+got.err), "\n") {
			require.True(t, line == "" || json.Valid([]byte(line)), line)
		}
	})
}
