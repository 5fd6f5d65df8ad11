package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

// outcome is what one run of the program did.
type outcome struct {
	code     int
	out, err string
}

func pronate(t *testing.T, in string, args ...string) outcome {
	t.Helper()
	var out, messages bytes.Buffer
	code := run(args, strings.NewReader(in), &out, &messages)
	return outcome{code, out.String(), messages.String()}
}

// wren puts the demo's character into a folder of the test's own.
func wren(t *testing.T) string {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "wren.glb")
	require.NoError(t, os.WriteFile(path, data, 0o644))
	return path
}

func TestHelpHasAnExampleForEveryCommand(t *testing.T) {
	for _, command := range []string{"demo", "detect", "split", "plan", "solve"} {
		got := pronate(t, "", command, "--help")
		require.Equal(t, exitDone, got.code)
		require.Contains(t, got.out, "Examples:\n", command)
		require.Contains(t, got.out, "pronate "+command, command)
		require.Empty(t, got.err)
	}
	require.Contains(t, pronate(t, "").out, "Available Commands:")
}

func TestShellCompletionComesWithIt(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		require.Equal(t, exitDone, pronate(t, "", "completion", shell).code)
	}
	require.Regexp(t, `(?m)^  completion +Print shell completion$`, pronate(t, "").out)
	for _, args := range [][]string{{"completion", "--help"}, {"completion", "bash", "--help"}, {"--help"}} {
		got := pronate(t, "", args...)
		require.Equal(t, exitDone, got.code)
		require.NotContains(t, got.out, "autocompletion")
	}
}

// A wrong command line is exit 2 and one line that shows the way to the help.
func TestUsageErrors(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"mend"}, `unknown command "mend"; see`},
		{[]string{"slpit"}, `unknown command "slpit", did you mean "split"?`},
		{[]string{"plan", "--twist", "90", "--loss", "5%"}, "\"--loss\" flag: expected a number, such as 0.05; see"},
		{[]string{"plan", "--twist", "90°", "--loss", "5"}, "\"--twist\" flag: expected a number, such as 90; see"},
		{[]string{"plan", "--twist", "90", "--loss", "5"}, "--loss 5: expected a fraction of the radius, between 0 and 1; for 5 % write 0.05; see"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--tolerance", "x"}, "expected a number, such as 0.05; see"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--influences", "many"}, "\"--influences\" flag: expected a whole number, such as 4; see"},
		{[]string{"check", "a.glb", "--influences", "4.5"}, "expected a whole number, such as 4; see"},
		{[]string{"plan", "--twist", "90", "--loss", "0.05", "-o", "run_test.go"}, "-o run_test.go: is a file, expected a folder"},
		{[]string{"demo", "-o", "run_test.go"}, "-o run_test.go: is a file, expected a folder"},
		{[]string{"split"}, "split needs IN, the character to read"},
		{[]string{"detect"}, "detect needs IN, the character to read"},
		{[]string{"split", "a.glb", "b.glb"}, `split takes one IN, found "b.glb" as well`},
		{[]string{"solve", "a", "b"}, `solve takes one FILE, found "b" as well`},
		{[]string{"plan", "90"}, `plan takes flags only, found "90"`},
		{[]string{"demo", "out\nside"}, `demo takes flags only, found`},
		{[]string{"split", "a.glb", "--colour"}, "unknown flag: --colour"},
		{[]string{"split", "a.glb"}, "split needs -o OUT"},
		{[]string{"split", "a.glb", "-o", "b.txt"}, "expected a name that ends in .glb or .gltf"},
		{[]string{"split", "a.glb", "-o", "-", "--json"}, "both want standard output"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--influences", "5"}, "expected 4 or 8"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--weights", "square"}, "expected quadratic, hat or cubic"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--tolerance", "0"}, "expected degrees"},
		{[]string{"split", "a.glb", "-o", "b.glb", "--names", "foo"}, "--names foo: expected {joint} and {n} in it"},
		{[]string{"split", "-", "-o", "b.glb", "--limbs", "-"}, "both want standard input"},
		{[]string{"plan"}, "plan needs --twist DEG and --loss FRACTION"},
		{[]string{"plan", "--twist", "90", "--loss", "0"}, "between 0 and 1"},
		{[]string{"plan", "--twist", "NaN", "--loss", "0.1"}, "expected degrees"},
		{[]string{"solve", "--shares", "0,x"}, "expected numbers with commas between"},
		{[]string{"solve", "--shares", "0,2"}, "shares[1] = 2, expected 0 to 1"},
		{[]string{"solve", "--axis", "0,0,0"}, "axis is [0, 0, 0]"},
	} {
		got := pronate(t, "", c.args...)
		require.Equal(t, exitUsage, got.code, c.args)
		require.Contains(t, got.err, c.want)
		require.Contains(t, got.err, "--help")
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		require.Empty(t, got.out)
	}
}

func TestSplitWrites(t *testing.T) {
	in := wren(t)
	for _, extension := range []string{".glb", ".gltf", ".GLB"} {
		out := filepath.Join(t.TempDir(), "split"+extension)
		got := pronate(t, "", "split", in, "--as-asked", "-o", out)
		require.Equal(t, exitDone, got.code, got.err)
		require.Contains(t, got.out, "left thigh")
		require.Contains(t, got.out, "written: "+out)
		file, err := asset.Open(out)
		require.NoError(t, err)
		require.Len(t, file.Doc.Nodes, 22+6*3)
	}
}

// The report's fields are an interface: notebooks and pipelines read them.
func TestSplitReportAsJSON(t *testing.T) {
	got := pronate(t, "", "split", wren(t), "-o", filepath.Join(t.TempDir(), "out.glb"), "--json")
	require.Equal(t, exitDone, got.code, got.err)
	var report map[string]any
	require.NoError(t, json.Unmarshal([]byte(got.out), &report))
	limb := report["limbs"].([]any)[0].(map[string]any)
	for _, key := range []string{"name", "joint", "end", "length_m", "segments", "field", "range", "twist_max_deg", "vertices", "weight_moved_max"} {
		require.Contains(t, limb, key)
	}
	clip := report["clips"].([]any)[0].(map[string]any)
	for _, key := range []string{"name", "keys_in", "keys_out", "error_max_deg"} {
		require.Contains(t, clip, key)
	}
	require.LessOrEqual(t, report["rest_error_max"], 1e-6)
}

func TestSplitThroughStandardStreams(t *testing.T) {
	data, err := os.ReadFile(wren(t))
	require.NoError(t, err)
	got := pronate(t, string(data), "split", "-", "-o", "-")
	require.Equal(t, exitDone, got.code, got.err)
	_, err = asset.Decode("output", []byte(got.out), nil)
	require.NoError(t, err)
}

func TestDetectThenSplit(t *testing.T) {
	in := wren(t)
	limbs := filepath.Join(t.TempDir(), "limbs.yaml")
	got := pronate(t, "", "detect", in)
	require.Equal(t, exitDone, got.code, got.err)
	require.NoError(t, os.WriteFile(limbs, []byte(got.out), 0o644))
	detected := filepath.Join(t.TempDir(), "a.glb")
	trusted := filepath.Join(t.TempDir(), "b.glb")
	require.Equal(t, exitDone, pronate(t, "", "split", in, "--limbs", limbs, "-o", detected).code)
	require.Equal(t, exitDone, pronate(t, "", "split", in, "-o", trusted).code)
	a, err := os.ReadFile(detected)
	require.NoError(t, err)
	b, err := os.ReadFile(trusted)
	require.NoError(t, err)
	require.Equal(t, a, b)
}

// A failed run says one line, leaves an existing file as it was and nothing
// else behind.
func TestFailureLeavesFilesAlone(t *testing.T) {
	in := wren(t)
	folder := t.TempDir()
	out := filepath.Join(folder, "out.glb")
	require.NoError(t, os.WriteFile(out, []byte("precious"), 0o644))
	broken := filepath.Join(folder, "broken.glb")
	data, err := os.ReadFile(in)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(broken, data[:len(data)/2], 0o644))
	limbs := filepath.Join(folder, "limbs.yaml")
	require.NoError(t, os.WriteFile(limbs, []byte("version: 1\nlimbs:\n  - name: left thigh\n    joint: thigh_l\n    end: shin_l\n    segmnts: 2\n"), 0o644))
	wrong := filepath.Join(folder, "wrong.yaml")
	require.NoError(t, os.WriteFile(wrong, []byte("version: 1\nlimbs:\n  - name: left thigh\n    joint: thighl\n    end: shin_l\n"), 0o644))
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"split", broken, "-o", out}, []string{"broken.glb", "expected"}},
		{[]string{"split", filepath.Join(folder, "none.glb"), "-o", out}, []string{"none.glb"}},
		{[]string{"split", in, "-o", out, "--limbs", limbs}, []string{"limbs.yaml:6:5", "segmnts"}},
		{[]string{"split", in, "-o", out, "--limbs", wrong}, []string{"wrong.yaml:4:12: ", "left thigh", "thighl", "thigh_l"}},
		{[]string{"split", in, "-o", filepath.Join(folder, "no", "folder.glb")}, []string{"no/folder.glb: no such folder"}},
		{[]string{"split", filepath.Join(folder, "one\ntwo\x1b[31m.glb"), "-o", out}, []string{`one\ntwo\x1b[31m.glb`}},
		{[]string{"detect", broken, "-o", out}, []string{"broken.glb"}},
	} {
		got := pronate(t, "", c.args...)
		require.Equal(t, exitFailed, got.code, got.err)
		for _, want := range c.want {
			require.Contains(t, got.err, want)
		}
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		require.Empty(t, got.out)
		left, err := os.ReadFile(out)
		require.NoError(t, err)
		require.Equal(t, "precious", string(left))
		entries, err := os.ReadDir(folder)
		require.NoError(t, err)
		require.Len(t, entries, 4, "no temporary files")
	}
}

func TestSplittingTwiceIsRefused(t *testing.T) {
	out := filepath.Join(t.TempDir(), "once.glb")
	require.Equal(t, exitDone, pronate(t, "", "split", wren(t), "-o", out).code)
	got := pronate(t, "", "split", out, "-o", out+".glb")
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, "split before")
}

// The character that is read is not written over, by another name either.
func TestOutputOntoInputIsRefused(t *testing.T) {
	in := wren(t)
	before, err := os.ReadFile(in)
	require.NoError(t, err)
	link := filepath.Join(t.TempDir(), "link.glb")
	require.NoError(t, os.Symlink(in, link))
	same := filepath.Join(filepath.Dir(in), "same.glb")
	require.NoError(t, os.Link(in, same))
	for _, args := range [][]string{
		{"split", in, "-o", in}, {"split", in, "-o", link}, {"split", link, "-o", in}, {"split", in, "-o", same},
		{"detect", in, "-o", in}, {"detect", in, "-o", link},
	} {
		got := pronate(t, "", args...)
		require.Equal(t, exitUsage, got.code, args)
		require.Contains(t, got.err, "-o "+args[3]+": is the character read, expected another name")
	}
	after, err := os.ReadFile(in)
	require.NoError(t, err)
	require.Equal(t, before, after)
}

// What a file calls its joints and clips must not reach the terminal as it is.
func TestReportEscapesNames(t *testing.T) {
	var out bytes.Buffer
	nasty := "a\tb\nc\x1b[2J"
	printReport(&out, asset.Report{
		Limbs: []asset.LimbReport{{Name: nasty, Joint: nasty, End: nasty, TwistMaxDeg: 79.6, ClipKeyed: []bool{true}}},
		Clips: []asset.ClipReport{{Name: nasty, ErrorMaxDeg: 0.0000432}},
	})
	require.NotContains(t, out.String(), "\x1b")
	require.Equal(t, 4, strings.Count(out.String(), `a\tb\nc\x1b[2J`))
	require.Contains(t, out.String(), "greatest twist")
	require.Contains(t, out.String(), "80 degrees")
	require.Contains(t, out.String(), "4.3e-05 degrees")
	require.Equal(t, 7, strings.Count(out.String(), "\n"))
}

// A joint's name with a newline or an escape in it keeps a message on its line,
// whether the limb file has it or the character.
func TestMessagesEscapeJointNames(t *testing.T) {
	in := wren(t)
	out := filepath.Join(t.TempDir(), "out.glb")
	for _, limb := range []string{
		`{joint: "thigh\n\e[2Jl", end: shin_l}`,
		`{joint: thigh_l, end: "shin\n\e[2Jl"}`,
		`{name: "one\n\e[2Jl", joint: shin_l, end: thigh_l}`,
	} {
		got := pronate(t, "version: 1\nlimbs: ["+limb+"]\n", "split", in, "-o", out, "--limbs", "-")
		require.Equal(t, exitFailed, got.code, limb)
		require.Contains(t, got.err, `\n\x1b[2Jl`)
		require.NotContains(t, got.err, "\x1b")
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
	}

	nameless := filepath.Join(t.TempDir(), "no\nlimbs\x1b[2J.gltf")
	require.NoError(t, os.WriteFile(nameless, []byte(`{"asset":{"version":"2.0"},"skins":[{"joints":[0,1]}],
		"nodes":[{"name":"n\n\u001b[2J0","children":[1]},{"name":"n1","translation":[0,1,0]}]}`), 0o644))
	got := pronate(t, "", "detect", nameless)
	require.Equal(t, exitFailed, got.code)
	require.NotContains(t, got.err, "\x1b")
	first, _, _ := strings.Cut(got.err, "\n")
	require.Contains(t, first, `no\nlimbs\x1b[2J.gltf: found no arms or legs`)
	require.Contains(t, got.err, `n\n\x1b[2J0`)
}

// full fails like a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestFailureToPrintIsAFailure(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"split", "--help"}, {}, {"--version"}, {"plan", "--twist", "90", "--loss", "0.1"}, {"completion", "bash"}} {
		var messages bytes.Buffer
		require.Equal(t, exitFailed, run(args, strings.NewReader(""), full{}, &messages), args)
		require.True(t, strings.HasSuffix(messages.String(), "pronate: no room\n"), messages.String())
	}
}

func TestVersion(t *testing.T) {
	got := pronate(t, "", "--version")
	require.Equal(t, exitDone, got.code)
	require.Regexp(t, `^pronate (devel|v\d\S*)\n$`, got.out)
}

// A device that is no terminal gets no progress bar.
func TestNullDeviceIsNoTerminal(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer null.Close()
	require.False(t, isTerminal(null))
	require.False(t, isTerminal(&bytes.Buffer{}))
}

// What a shell asks for a completion gets, as cobra's hidden command has it.
func TestCompletion(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"split", "--weights", ""}, "quadratic\nhat\ncubic\n"},
		{[]string{"split", "--influences", ""}, "4\n8\n"},
		{[]string{"split", ""}, "glb\ngltf\n"},
		{[]string{"detect", ""}, "glb\ngltf\n"},
		{[]string{"split", "a.glb", "-o", ""}, "glb\ngltf\n"},
		{[]string{"split", "a.glb", "--limbs", ""}, "yaml\nyml\njson\n"},
	} {
		got := pronate(t, "", append([]string{"__complete"}, c.args...)...)
		require.Equal(t, exitDone, got.code)
		require.True(t, strings.HasPrefix(got.out, c.want+":"), got.out)
	}
}

func TestPlan(t *testing.T) {
	got := pronate(t, "", "plan", "--twist", "90", "--loss", "0.05")
	require.Equal(t, exitDone, got.code, got.err)
	// Kavan 2014, linear blending of a twist of 90 degrees over three spans.
	require.Regexp(t, `(?m)^4 +30.0° +96.6 % +95.5 % +100 % +4 +<- enough$`, got.out)
	require.True(t, strings.HasPrefix(got.out, "twist 90 degrees, loss of radius 5 % at most\n\nsegments"), got.out)
	require.NotRegexp(t, `(?m) $`, got.out)
	var report planned
	require.NoError(t, json.Unmarshal([]byte(pronate(t, "", "plan", "--twist", "90", "--loss", "0.05", "--json").out), &report))
	require.Equal(t, 4, report.Segments)
	require.InDelta(t, 0.965926, report.Rows[3].LeastRadius, 1e-6)
	require.Equal(t, 1.0, report.Rows[0].Dual)
}

func TestPlanDraws(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	got := pronate(t, "", "plan", "--twist", "90", "--loss", "0.05", "-o", folder)
	require.Equal(t, exitDone, got.code, got.err)
	for _, name := range []string{"plan.svg", "plan.png", "plan.csv"} {
		require.Contains(t, got.out, "written: "+filepath.Join(folder, name))
		require.FileExists(t, filepath.Join(folder, name))
	}
	table, err := os.ReadFile(filepath.Join(folder, "plan.csv"))
	require.NoError(t, err)
	require.Contains(t, string(table), "\n2,90,0.7071067811865476,0.66666666666666")
}

func TestPlanPastALimbsMost(t *testing.T) {
	for loss, want := range map[string]string{
		"1e-9":  "pronate: a twist of 90 degrees within a loss of 1e-9 takes 17564 segments, a limb has at most 32\n",
		"1e-99": "pronate: a twist of 90 degrees within a loss of 1e-99 takes over 65536 segments, a limb has at most 32\n",
	} {
		got := pronate(t, "", "plan", "--twist", "90", "--loss", loss)
		require.Equal(t, exitFailed, got.code)
		require.Equal(t, want, strings.Replace(got.err, "1e-09", "1e-9", 1))
		require.Empty(t, got.out)
	}
}
