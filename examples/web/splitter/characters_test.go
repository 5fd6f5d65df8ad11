package splitter

import (
	"encoding/json"
	"sync"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/fixture/people"
	"github.com/stretchr/testify/require"
)

// character is a file, as it is and as the page has it.
type character struct {
	name   string
	data   []byte
	source *asset.File
	file   *asset.File // without clips and at rest

	found func() (string, error) // what Detect says, once
}

func characterOf(t testing.TB, name string, data []byte) character {
	t.Helper()
	f, err := asset.Decode(name, data, nil)
	require.NoError(t, err)
	still, err := atRest(f)
	require.NoError(t, err)
	return character{name, data, f, still, sync.OnceValues(func() (string, error) {
		_, text, err := Detect(name, data)
		return text, err
	})}
}

func wren(t testing.TB) character {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	return characterOf(t, "wren.glb", data)
}

// mannequin has arms and legs that are not joined to the torso: detection proposes no
// split of them.
func mannequin(t testing.TB) character {
	t.Helper()
	c, err := people.Mannequin("mannequin", 0)
	require.NoError(t, err)
	return characterOf(t, c.Name, c.Data)
}

func built(t testing.TB, o fixture.Options) character {
	t.Helper()
	c, err := fixture.Build(o)
	require.NoError(t, err)
	return characterOf(t, c.Name, c.Data)
}

// characters are Wren and some that do what files in the wild do.
func characters(t testing.TB) map[string]character {
	return map[string]character{
		"wren":     wren(t),
		"plain":    built(t, fixture.Options{Clips: []string{"wild"}}),
		"odd":      built(t, fixture.Options{Axes: fixture.Odd, Posed: true, ChildrenFirst: true}),
		"posed":    built(t, fixture.Options{PosedIn: "wild", RootTurned: true, Clips: []string{"wild", "swing"}}),
		"apart":    mannequin(t),
		"coarse":   built(t, fixture.Options{RingsPerBone: 2, Sides: 3}), // too few vertices to split well
		"level":    built(t, fixture.Options{Axes: fixture.Level, RootScale: 0.01, RootTurned: true}),
		"mirrored": built(t, fixture.Options{Axes: fixture.Odd, Mirrored: true, Matrices: true}),
	}
}

// detected are a character's limbs as the page has them.
func (c character) detected(t testing.TB) limbsText {
	t.Helper()
	text, err := c.found()
	require.NoError(t, err)
	var limbs limbsText
	require.NoError(t, json.Unmarshal([]byte(text), &limbs))
	return limbs
}

// split has the limbs split.
func (c character) split(t testing.TB, limbs limbsText) (*asset.File, report) {
	t.Helper()
	text, err := encoded(limbs)
	require.NoError(t, err)
	glb, said, err := Split(c.name, c.data, text)
	require.NoError(t, err, text)
	f, err := asset.Decode("split.glb", glb, nil)
	require.NoError(t, err)
	var out report
	require.NoError(t, json.Unmarshal([]byte(said), &out))
	return f, out
}
