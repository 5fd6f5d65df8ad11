package doors

import (
	"flag"
	"os"
	"runtime"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

var write = flag.Bool("write", false, "write table.json instead of comparing it")

// The committed table is what chain gives for limbs that asset.Resolve finds in Wren,
// so that the other doors are held to something that has not been through them.
func TestTableIsWhatGoGives(t *testing.T) {
	if !sameWren {
		t.Skip("Wren has other last digits on " + runtime.GOARCH)
	}
	file, data := wren(t)
	var made []limb
	for _, text := range limbFiles {
		l := limb{File: []byte(text)}
		info := l.resolve(t, file)
		l.Name, l.Solver, l.Poses = info.Spec.Name, l.specification(t, data), posesOf(t, info)
		solver, err := chain.NewSolver(info.Solver)
		require.NoError(t, err)
		l.Segments = solver.Segments()
		for i := range l.Poses {
			want := solved(t, solver, l.Poses[i])
			l.Poses[i].Want = &want
		}
		made = append(made, l)
	}
	got := textOf(t, made)
	if *write {
		require.NoError(t, os.WriteFile(tableName, []byte(got), 0o644))
	}
	want, err := os.ReadFile(tableName)
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

// solved is a pose's answer, the short way.
func solved(t testing.TB, solver *chain.Solver, p pose) (out answers) {
	t.Helper()
	var tip quat.Number
	var tips chain.Rotations[float32]
	if p.Tip != nil {
		tip = p.Tip.number()
		s := p.Tip.single()
		tips = chain.Quaternions(s[:], 1)
	}
	n := solver.Segments()
	double := make([]quat.Number, n)
	require.True(t, solver.Solve(double, p.Joint.number(), tip).Defined, p.Name)
	single, joint := make([]float32, 4*n), p.Joint.single()
	_, err := chain.NewBatch[float32](solver).Solve(chain.Quaternions(single, n), chain.Quaternions(joint[:], 1), tips, 1)
	require.NoError(t, err)
	for i, q := range double {
		out.Double = append(out.Double, bitsOf(q))
		out.Single = append(out.Single, bits32(single[4*i:]))
	}
	return out
}

// The table's own numbers have its answers, on every processor: Wren herself, who is
// made with sines of each processor's own, plays no part. (.ci/bits.sh leaves it to
// lighter packages to look at other processors: here all of asset would be compiled for
// each.)
func TestTableBySpecification(t *testing.T) {
	for _, l := range readTable(t) {
		spec, err := engine.ParseSpec(l.Solver)
		require.NoError(t, err, l.Name)
		handle, err := engine.New(spec)
		require.NoError(t, err, l.Name)
		made, err := engine.Lookup(handle)
		require.NoError(t, err)
		require.Equal(t, l.Segments, made.Segments())
		for _, p := range l.Poses {
			got := make([]float64, 4*l.Segments)
			_, status, err := made.Solve(got, (*[4]float64)(&p.Joint), (*[4]float64)(p.Tip))
			require.NoError(t, err)
			require.Equal(t, engine.OK, status)
			joint := p.Joint.single()
			var tips chain.Rotations[float32]
			if p.Tip != nil {
				tip := p.Tip.single()
				tips = chain.Quaternions(tip[:], 1)
			}
			single := make([]float32, 4*l.Segments)
			_, err = engine.Solve(made, chain.Quaternions(single, l.Segments), chain.Quaternions(joint[:], 1), tips, 1, 1)
			require.NoError(t, err)
			require.Empty(t, both.differ(*p.Want, gathered(got, single)), "%s: %s", l.Name, p.Name)
		}
		require.NoError(t, engine.Free(handle))
	}
}

// gathered are answers from numbers side by side, of either precision or both.
func gathered(double []float64, single []float32) (out answers) {
	for ; len(double) >= 4; double = double[4:] {
		out.Double = append(out.Double, bits64(double))
	}
	for ; len(single) >= 4; single = single[4:] {
		out.Single = append(out.Single, bits32(single))
	}
	return out
}
