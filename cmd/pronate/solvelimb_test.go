package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

const limbsOfSolve = `version: 1
limbs:
  - {name: left thigh, joint: thigh_l, end: shin_l, segments: 4}
  - {name: left shin, joint: shin_l, end: foot_l, shares: [0, 0.25, 1]}
  - {joint: forearm_l, end: hand_l, twist: tip, tip: hand_l, shares: smooth}
`

// asFile puts a text into a folder of the test's own.
func asFile(t testing.TB, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// samples are rotations x, y, z, w over all of space, and their lines.
func samples(withTip bool) (joints, tips [][4]float64, lines string) {
	var out strings.Builder
	for i := range 24 {
		a := float64(i)
		joint, tip := [4]float64{a - 11, 3 - a/5, a*a/40 - 7, 4}, [4]float64{1, a/3 - 4, 2, 5 - a/7}
		joints, tips = append(joints, joint), append(tips, tip)
		line := map[string]any{"rotation": joint}
		if withTip {
			line["tip"] = tip
		}
		text, _ := json.Marshal(line)
		fmt.Fprintf(&out, "%s\n", text)
	}
	return joints, tips, out.String()
}

func fromXYZW(v [4]float64) quat.Number {
	return quat.Number{Real: v[3], Imag: v[0], Jmag: v[1], Kmag: v[2]}
}

// requireSolved holds answers to a solver of package chain, to the bit.
func requireSolved(t *testing.T, solver *chain.Solver, withTip, local bool, args ...string) {
	t.Helper()
	joints, tips, lines := samples(withTip)
	if local {
		args = append(args, "--local")
	}
	got := pronate(t, lines, append([]string{"solve"}, args...)...)
	require.Equal(t, exitDone, got.code, got.err)
	answers := strings.Split(strings.TrimSpace(got.out), "\n")
	require.Len(t, answers, len(joints))
	segments := make([]quat.Number, solver.Segments())
	for i, text := range answers {
		solve := solver.SolveFromRest
		if local {
			solve = solver.Solve
		}
		joint := fromXYZW(joints[i])
		result := solve(segments, joint, fromXYZW(tips[i]))
		a := answer(t, text)
		require.Len(t, a.Segments, len(segments))
		for k, q := range segments {
			require.Equal(t, xyzw(q), a.Segments[k], "line %d, segment %d", i+1, k+1)
		}
		require.Equal(t, xyzw(solver.Swing(joint, result)), a.Swing)
		require.Equal(t, result.Condition, a.Condition)
		require.Equal(t, withTip, a.TipTwist != nil)
	}
}

// A limb file alone: what chain/asset makes of the limb and an axis.
func TestSolveByLimbFile(t *testing.T) {
	name := asFile(t, "limbs.yaml", limbsOfSolve)
	parsed, err := asset.ParseLimbs(name, []byte(limbsOfSolve))
	require.NoError(t, err)
	for i, limb := range []struct {
		name, axis string
		best, tip  bool
	}{
		{"left thigh", "0,-1,0", true, false}, {"shin_l", "0,-2,0.5", false, false}, {"forearm_l", "1,0,0", false, true},
	} {
		var axis numbers
		require.NoError(t, axis.Set(limb.axis))
		solver, note, err := parsed.Limbs[i].Solver(asset.Stance{Axis: r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]}})
		require.NoError(t, err)
		require.Empty(t, note)
		require.Equal(t, limb.best, solver.Field().IsCorrected())
		for _, local := range []bool{false, true} {
			requireSolved(t, solver, limb.tip, local, "--limbs", name, "--limb", limb.name, "--axis="+limb.axis)
		}
	}
	one := asFile(t, "one.yaml", "version: 1\nlimbs: [{joint: thigh_l, end: shin_l, segments: 4}]\n")
	_, _, lines := samples(false)
	require.Equal(t,
		pronate(t, lines, "solve", "--limbs", name, "--limb", "thigh_l", "--axis=0,-1,0"),
		pronate(t, lines, "solve", "--limbs", one, "--axis=0,-1,0"), "a single limb needs no name")
	require.Equal(t,
		pronate(t, lines, "solve", "--limbs", name, "--limb", "left thigh", "--axis=0,-1,0"),
		pronate(t, limbsOfSolve, "solve", "--limbs", "-", "--limb", "left thigh", "--axis=0,-1,0", asFile(t, "thigh.ndjson", lines)))
}

// In a character: what chain makes of the limb that is resolved there.
func TestSolveInCharacter(t *testing.T) {
	character := wren(t)
	file, err := asset.Open(character)
	require.NoError(t, err)
	// What split decides, solve does.
	chosen, _, err := asset.Choose(file, nil, asset.Options{})
	require.NoError(t, err)
	require.Len(t, chosen.Limbs, 6)
	infos, err := asset.Resolve(file, chosen.Limbs)
	require.NoError(t, err)
	tables := 0
	for i, info := range infos {
		if info.FieldName == asset.FieldBalanced {
			tables++
		}
		solver, err := chain.NewSolver(info.Solver)
		require.NoError(t, err)
		for _, local := range []bool{false, true} {
			requireSolved(t, solver, info.Tip >= 0, local, "--character", character, "--limb", chosen.Limbs[i].Joint)
		}
	}
	require.Zero(t, tables, "the shortest arc serves all of her limbs")

	limbs := asFile(t, "limbs.yaml", limbsOfSolve)
	parsed, err := asset.ParseLimbs(limbs, []byte(limbsOfSolve))
	require.NoError(t, err)
	chosen, _, err = asset.Choose(file, nil, asset.Options{Limbs: parsed.Limbs})
	require.NoError(t, err)
	infos, err = asset.Resolve(file, chosen.Limbs)
	require.NoError(t, err)
	solver, err := chain.NewSolver(infos[0].Solver)
	require.NoError(t, err)
	require.Equal(t, 4, solver.Segments())
	requireSolved(t, solver, false, false, "--character", character, "--limbs", limbs, "--limb", "left thigh")
}

// A table has the same answers as lines of JSON.
func TestSolveByLimbCSV(t *testing.T) {
	limbs := asFile(t, "limbs.yaml", limbsOfSolve)
	for limb, withTip := range map[string]bool{"left thigh": false, "forearm_l": true} {
		args := []string{"solve", "--limbs", limbs, "--limb", limb, "--axis=0,-1,0"}
		joints, tips, lines := samples(withTip)
		table := "rotation_x,rotation_y,rotation_z,rotation_w"
		if withTip {
			table += ",tip_x,tip_y,tip_z,tip_w"
		}
		for i, joint := range joints {
			row := joint[:]
			if withTip {
				row = append(row, tips[i][:]...)
			}
			list := numbers(row)
			table += "\n" + list.String()
		}
		got := pronate(t, table, append(args, "--csv")...)
		require.Equal(t, exitDone, got.code, got.err)
		rows := strings.Split(strings.TrimSpace(got.out), "\n")[1:]
		answers := strings.Split(strings.TrimSpace(pronate(t, lines, args...).out), "\n")
		require.Len(t, rows, len(answers))
		for i, row := range rows {
			var cells numbers
			require.NoError(t, cells.Set(row))
			a := answer(t, answers[i])
			want := numbers{*a.Twist, a.Condition}
			if withTip {
				want = append(want, **a.TipTwist)
			}
			want = append(want, a.Swing[:]...)
			for _, s := range a.Segments {
				want = append(want, s[:]...)
			}
			require.Equal(t, want, cells)
		}
	}
}
