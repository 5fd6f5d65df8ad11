package check_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/fixture/people"
	"github.com/stretchr/testify/require"
)

// followed is a limb with a setting as the limb file has it.
func followed(t *testing.T, l asset.LimbSpec, s check.Setting) asset.LimbSpec {
	t.Helper()
	text := fmt.Sprintf("version: 1\nlimbs:\n  - joint: a\n    end: b\n    %s: %s\n", s.Key, s.Value)
	limbs, err := asset.ParseLimbs("advice.yaml", []byte(text))
	require.NoError(t, err, text)
	switch from := limbs.Limbs[0]; s.Key {
	case "segments":
		l.Segments = from.Segments
	case "field":
		l.Field = from.Field
	case "crease":
		l.Crease = from.Crease
	default:
		require.Fail(t, "no such setting", s.Key)
	}
	return l
}

// follow does what advice says, to the letter.
func follow(t *testing.T, o check.Options, advice []check.Advice) check.Options {
	t.Helper()
	limbs := append([]asset.LimbSpec{}, o.Limbs...)
	for _, a := range advice {
		for _, s := range a.Set {
			if s.Key == "--influences" {
				n, err := strconv.Atoi(s.Value)
				require.NoError(t, err)
				o.Influences = n
				continue
			}
			found := false
			for i := range limbs {
				if limbs[i].Name == s.Limb {
					limbs[i], found = followed(t, limbs[i], s), true
				}
			}
			require.True(t, found, "no limb %q", s.Limb)
		}
	}
	o.Limbs = limbs
	return o
}

// characters are made here; PRONATE_CHARACTERS may name a folder with more.
func characters(t *testing.T) map[string]*asset.File {
	t.Helper()
	out := map[string]*asset.File{"wren": wren(t)}
	add := func(name string, c fixture.Character, err error) {
		require.NoError(t, err)
		file, err := asset.Decode(c.Name, c.Data, nil)
		require.NoError(t, err)
		out[name] = file
	}
	c, err := people.Person(people.PersonOptions{})
	add("person", c, err)
	c, err = people.Animal(people.AnimalOptions{})
	add("animal", c, err)
	paths, err := filepath.Glob(filepath.Join(os.Getenv("PRONATE_CHARACTERS"), "*.glb"))
	require.NoError(t, err)
	for _, path := range paths {
		file, err := asset.Open(path)
		require.NoError(t, err)
		out[filepath.Base(path)] = file
	}
	return out
}

// Advice that is followed three times in a row never raises the figure that it is
// about, and what it promises comes about. Limbs come as detection proposes them, and
// as a rigger may set them: two segments throughout.
func TestAdviceConverges(t *testing.T) {
	if testing.Short() {
		t.Skip("checks many characters many times")
	}
	for name, file := range characters(t) {
		detected, err := asset.Detect(file)
		require.NoError(t, err)
		asked := append([]asset.LimbSpec{}, detected.Limbs...)
		for i := range asked {
			asked[i].Segments = 2
		}
		for how, limbs := range map[string][]asset.LimbSpec{"detected": detected.Limbs, "two segments": asked} {
			if name == "wren" && how == "two segments" {
				continue // many clips, and the person shows the same
			}
			t.Run(name+", "+how, func(t *testing.T) {
				o := check.Options{Limbs: limbs}
				found, err := check.Run(file, o)
				require.NoError(t, err)
				for round := range 3 {
					was := found
					if !slices.ContainsFunc(was.Advice, func(a check.Advice) bool { return len(a.Set) > 0 }) {
						break // the next round is this one again
					}
					o = follow(t, o, was.Advice)
					found, err = check.Run(file, o)
					require.NoError(t, err)
					now := found.Figures()
					for _, a := range was.Advice {
						t.Log(round, a.Text)
						if len(a.Set) == 0 {
							continue
						}
						require.InDelta(t, was.Figures()[a.Figure], a.Before, 0.011*a.Before+1e-9, "advice builds on advice")
						require.Less(t, a.After, a.Before)
						if is, listed := now[a.Figure]; listed {
							require.Less(t, is, was.Figures()[a.Figure], a.Text)
							require.InDelta(t, a.After, is, 0.011*a.After+1e-9, a.Text)
						}
					}
				}
				for _, a := range found.Advice {
					t.Log("left", a.Text)
				}
			})
		}
	}
}
