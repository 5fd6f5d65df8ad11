package splitter

import (
	"encoding/json"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// character is a file and the limbs that Detect finds in it.
type character struct {
	name string
	data []byte
	file *asset.File // without clips
}

func characterOf(t testing.TB, name string, data []byte) character {
	t.Helper()
	f, err := asset.Decode(name, data, nil)
	require.NoError(t, err)
	f, err = asset.WithoutClips(f)
	require.NoError(t, err)
	return character{name, data, f}
}

func wren(t testing.TB) character {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	return characterOf(t, "wren.glb", data)
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
		"level":    built(t, fixture.Options{Axes: fixture.Level, RootScale: 0.01, RootTurned: true}),
		"mirrored": built(t, fixture.Options{Axes: fixture.Odd, Mirrored: true, Matrices: true}),
	}
}

// detected are a character's limbs as the page has them.
func (c character) detected(t testing.TB) limbsText {
	t.Helper()
	text, err := Detect(c.name, c.data)
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
