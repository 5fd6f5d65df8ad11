package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
	"github.com/pronate/pronate/internal/fixture/touch"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// wasmCases is what the tests of js/test read: see js/test/setup.mjs.
type wasmCases struct {
	Limbs []wasmLimb `json:"limbs"`
	Aims  []wasmAim  `json:"aims"`
}

type wasmLimb struct {
	Name     string                 `json:"name"`
	Spec     json.RawMessage        `json:"spec"`
	N        int                    `json:"n"`
	Segments int                    `json:"segments"`
	Print    string                 `json:"fingerprint"` // hexadecimal
	Outcome  map[string]wasmOutcome `json:"outcome"`     // by precision
}

type wasmAim struct {
	Name    string                 `json:"name"`
	Axis    [3]float64             `json:"axis"`
	N       int                    `json:"n"`
	Outcome map[string]wasmOutcome `json:"outcome"`
}

type wasmOutcome struct {
	Undefined int `json:"undefined"`
	NotFinite int `json:"notFinite"`
}

var wasmSpecs = [][2]string{
	{"mixed", `{"shares": [0, 0.25, 0.5, 1], "tip_shares": [0.5, 0, 1, 0.1]}`},
	{"own", `{"axis": [1, 2, 3], "segments": 4}`},
	{"tip", `{"twist": "tip", "ramp": "smooth", "segments": 3}`},
	{"centre", `{"axis": [0, -1, 0], "centre": [1, 0, 1], "segments": 2}`},
	{"least_roll", `{"axis": [0, -1, 0], "field": "least_roll", "range": "hip", "down": [0, -1, 0], "forward": [0, 0, 1], "out": [1, 0, 0], "segments": 5}`},
	{"balanced by default", `{"axis": [0, -1, 0], "range": "hip", "down": [0, -1, 0], "forward": [0, 0, 1], "out": [1, 0, 0], "segments": 5}`},
}

// The module gives Go's bits, under node; js/test has the tests.
func TestWebAssembly(t *testing.T) {
	if testing.Short() {
		t.Skip("building the module takes a while")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed")
	}
	touch.Files(t, "*.go", "js/*.*", "js/test/*", "../../internal/engine/*.go")
	folder := t.TempDir()
	build := exec.Command("go", "build", "-buildmode=c-shared", "-o", filepath.Join(folder, "pronate.wasm"), ".")
	build.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0")
	out, err := build.CombinedOutput()
	require.NoError(t, err, "%s", out)

	var cases wasmCases
	const n = 1003 // no whole number of anything
	for _, c := range wasmSpecs {
		cases.Limbs = append(cases.Limbs, wasmLimb{Name: c[0], Spec: json.RawMessage(c[1]), N: n, Outcome: map[string]wasmOutcome{}})
	}
	cases.Aims = []wasmAim{{Name: "aim", Axis: [3]float64{1, 2, 3}, N: n, Outcome: map[string]wasmOutcome{}}}
	wasmAnswers[float32](t, folder, "f32", &cases)
	wasmAnswers[float64](t, folder, "f64", &cases)
	text, err := json.Marshal(cases)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "cases.json"), text, 0o600))

	scripts, err := filepath.Glob("js/test/*.mjs")
	require.NoError(t, err)
	ran := 0
	for _, script := range scripts {
		if filepath.Base(script) == "setup.mjs" {
			continue
		}
		ran++
		t.Run(filepath.Base(script), func(t *testing.T) {
			out, err := exec.Command(node, "--no-warnings", script, folder).CombinedOutput()
			require.NoError(t, err, "%s", out)
			require.Regexp(t, regexp.MustCompile(`(?m)^\S+ pass [1-9]`), string(out))
			require.Regexp(t, regexp.MustCompile(`(?m)^\S+ skipped 0$`), string(out))
		})
	}
	require.NotZero(t, ran)
}

// wasmAnswers writes inputs of a precision, and what Go gives for them.
func wasmAnswers[F float32 | float64](t *testing.T, folder, precision string, cases *wasmCases) {
	write := func(name string, numbers []F) {
		var data bytes.Buffer
		require.NoError(t, binary.Write(&data, binary.LittleEndian, numbers))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name+"."+precision), data.Bytes(), 0o600))
	}
	n := cases.Limbs[0].N
	joints, tips, targets := awkward[F](1, n, 4), awkward[F](2, n, 4), awkward[F](3, n, 3)
	write("joints", joints)
	write("tips", tips)
	write("targets", targets)
	for i := range cases.Limbs {
		c := &cases.Limbs[i]
		spec, err := engine.ParseSpec(c.Spec)
		require.NoError(t, err)
		handle, err := engine.New(spec)
		require.NoError(t, err)
		limb, err := engine.Lookup(handle)
		require.NoError(t, err)
		c.Segments = limb.Segments()
		c.Print = strconv.FormatUint(limb.Describe().Fingerprint, 16)
		want := make([]F, 4*c.Segments*n)
		o, err := engine.Solve(limb, chain.Quaternions(want, c.Segments), chain.Quaternions(joints, 1), chain.Quaternions(tips, 1), n, 1)
		require.NoError(t, err)
		c.Outcome[precision] = wasmOutcome{o.Undefined, o.Bad}
		write(c.Name, want)
		require.NoError(t, engine.Free(handle))
	}
	for i := range cases.Aims {
		c := &cases.Aims[i]
		aim, err := chain.NewAim[F](r3.Vec{X: c.Axis[0], Y: c.Axis[1], Z: c.Axis[2]})
		require.NoError(t, err)
		want := make([]F, 4*n)
		o, err := aim.Solve(chain.Quaternions(want, 1), chain.Quaternions(joints, 1), chain.Vectors(targets), n)
		require.NoError(t, err)
		c.Outcome[precision] = wasmOutcome{o.Undefined, o.Bad}
		write(c.Name, want)
	}
}

// awkward are random rotations or directions of any length, and among them those
// that take other ways: none, half turns, the huge, the tiny and what is no number.
func awkward[F float32 | float64](seed uint64, n, width int) []F {
	random := rand.New(rand.NewPCG(seed, 2))
	out := make([]F, n*width)
	odd := []float64{0, 1, -1, 0x1p-140, 0x1p120, math.NaN(), math.Inf(1), math.Inf(-1), 0x1p-1060, 0x1p1000}
	for i := range out {
		out[i] = F(random.NormFloat64())
		if i/width%7 == 0 && random.IntN(2) == 0 {
			out[i] = F(odd[random.IntN(len(odd))])
		} else if i/width%11 == 0 {
			out[i] = F([]float64{0, 1}[random.IntN(2)])
		}
	}
	return out
}
