package asset

import (
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// A list of no limbs leaves the file as it is, to the byte where it stays of its kind,
// whether there is anything to split in it or not.
func TestSplitNothing(t *testing.T) {
	files := map[string][]byte{
		"no skin": []byte("{ \"nodes\" : [ {\"name\": \"a\"} ],\n\t\"asset\":{\"version\":\"2.0\"} }\n"),
	}
	for name, container := range map[string]fixture.Container{"binary": fixture.GLB, "embedded": fixture.Embedded} {
		c, err := fixture.Build(fixture.Options{Container: container, Clips: []string{"swing"}})
		require.NoError(t, err)
		files[name] = c.Data
	}
	for name, data := range files {
		f, err := Decode(name, data, nil)
		require.NoError(t, err)
		out, report, err := Split(f, Options{AsAsked: true, Limbs: []LimbSpec{}})
		require.NoError(t, err, name)
		require.Equal(t, Report{Limbs: []LimbReport{}, Clips: []ClipReport{}, Resolved: Limbs{Version: LimbsVersion, Limbs: []LimbSpec{}, Resolved: true}}, report)
		got, err := out.Encode(name == "binary", true)
		require.NoError(t, err)
		require.Equal(t, string(data), string(got), name)
	}
}
