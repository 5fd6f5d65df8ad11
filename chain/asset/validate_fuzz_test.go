package asset

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// nasty are values to put where they do not belong.
var nasty = []string{
	`null`, `true`, `0`, `-0`, `1`, `2`, `3`, `5`, `-1`, `255`, `65535`, `4000000000`, `9223372036854775807`, `-9223372036854775808`,
	`1e300`, `1e-300`, `1e999`, `0.5`, `""`, `"x"`, `"\u0000"`, `[]`, `[0]`, `[1, 2, 3]`, `[1, 1]`, `[[[[]]]]`, `[null]`, `{}`, `{"a": 1}`,
	`[{}]`, `[1e30, 1e30, 1e30]`, `[0, 0, 0, 0]`, `"SCALAR"`, `"VEC4"`, `"MAT4"`, `5120`, `5121`, `5123`, `5125`, `5126`, `"CUBICSPLINE"`,
	`"scale"`, `"data:,"`, `"data:;base64,AAAA"`,
}

// places lists the paths of all values of a document.
func places(value any, at []any, out [][]any) [][]any {
	out = append(out, append([]any{}, at...))
	switch v := value.(type) {
	case map[string]any:
		for _, key := range sortedKeys(v) {
			out = places(v[key], append(at, key), out)
		}
	case []any:
		for i := range v {
			out = places(v[i], append(at, i), out)
		}
	}
	return out
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// put changes the value at a place and returns the whole.
func put(root any, at []any, value any) any {
	if len(at) == 0 {
		return value
	}
	switch v := root.(type) {
	case map[string]any:
		v[at[0].(string)] = put(v[at[0].(string)], at[1:], value)
	case []any:
		v[at[0].(int)] = put(v[at[0].(int)], at[1:], value)
	}
	return root
}

// hostile changes a few values of a sound file. What comes of it is one line of
// error, or a file that all readers here get through.
func hostile(t *rapid.T) {
	var root any
	require.NoError(t, json.Unmarshal(encoded(t, whole(t)), &root))
	for range rapid.IntRange(1, 4).Draw(t, "changes") {
		at := rapid.SampledFrom(places(root, nil, nil)).Draw(t, "place")
		value := any(json.RawMessage(rapid.SampledFrom(nasty).Draw(t, "value")))
		root = put(root, at, value)
	}
	file, err := Decode("x.gltf", encoded(t, root), nil)
	if err != nil {
		oneLine(t, err)
		require.NotContains(t, err.Error(), "no check foresaw")
		return
	}
	for i, a := range file.Doc.Accessors {
		_, err := file.floats(i, a.Type.Components())
		oneLine(t, err)
	}
	if _, err := Detect(file); err != nil {
		first, _, _ := strings.Cut(err.Error(), "\n")
		require.True(t, strings.HasPrefix(first, "x.gltf: "))
	}
	_, err = file.Evaluator()
	oneLine(t, err)
}

func oneLine(t require.TestingT, err error) {
	if err != nil {
		require.NotContains(t, err.Error(), "\n")
	}
}

func TestHostile(t *testing.T) { rapid.Check(t, hostile) }

func FuzzHostile(f *testing.F) { f.Fuzz(rapid.MakeFuzz(hostile)) }
