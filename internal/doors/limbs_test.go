package doors

import (
	"encoding/json"
	"fmt"
	"sync"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/examples/web/splitter"
	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

// wrenName is what messages call the character.
const wrenName = "wren.glb"

// limbFiles are the table's limbs as a limb file has them: every field, twist, ramp
// and way to give a centre or a range.
var limbFiles = []string{
	`{"name": "left thigh, shortest", "joint": "thigh_l", "end": "shin_l", "segments": 3, "field": "shortest"}`,
	`{"name": "left thigh, centred", "joint": "thigh_l", "end": "shin_l", "segments": 4, "field": "centred", "range": "hip", "shares": "smooth"}`,
	`{"name": "left thigh, least roll", "joint": "thigh_l", "end": "shin_l", "segments": 4, "field": "least_roll", "range": "hip"}`,
	`{"name": "left thigh, balanced", "joint": "thigh_l", "end": "shin_l", "segments": 4, "field": "balanced", "range": "hip"}`,
	`{"name": "left upper arm, least roll", "joint": "upper_arm_l", "end": "forearm_l", "shares": [0, 0.15, 0.4, 0.7, 1], "segments": 5, "field": "least_roll", "range": "shoulder"}`,
	`{"name": "left upper arm, balanced", "joint": "upper_arm_l", "end": "forearm_l", "shares": [0, 0.15, 0.4, 0.7, 1], "segments": 5, "field": "balanced", "range": "shoulder"}`,
	`{"name": "left forearm", "joint": "forearm_l", "end": "hand_l", "twist": "tip", "tip": "hand_l", "segments": 3}`,
	`{"name": "right thigh, limits", "joint": "thigh_r", "end": "shin_r", "segments": 2, "range": {"flexion_deg": [-20, 100], "abduction_deg": [-25, 40]}}`,
	`{"name": "right upper arm, given centre", "joint": "upper_arm_r", "end": "forearm_r", "segments": 3, "centre": [-0.6, -0.3, 0.7], "range": "none"}`,
	`{"name": "right forearm, smooth", "joint": "forearm_r", "end": "hand_r", "twist": "tip", "tip": "hand_r", "segments": 4, "shares": "smooth"}`,
}

var wrenBytes = sync.OnceValues(demo.Wren)

// wren is the character without her clips, which no door plays, and her bytes.
func wren(t testing.TB) (*asset.File, []byte) {
	t.Helper()
	data, err := wrenBytes()
	require.NoError(t, err)
	f, err := asset.Decode(wrenName, data, nil)
	require.NoError(t, err)
	f, err = asset.WithoutClips(f)
	require.NoError(t, err)
	return f, data
}

// limbFile is a limb file of one limb: JSON is YAML too.
func (l limb) limbFile() []byte { return fmt.Appendf(nil, `{"version": 1, "limbs": [%s]}`, l.File) }

// specs reads the limb file.
func (l limb) specs(t testing.TB) []asset.LimbSpec {
	t.Helper()
	limbs, err := asset.ParseLimbs(l.Name, l.limbFile())
	require.NoError(t, err)
	return limbs.Limbs
}

// resolve finds the limb in Wren.
func (l limb) resolve(t testing.TB, f *asset.File) asset.LimbInfo {
	t.Helper()
	infos, err := asset.Resolve(f, l.specs(t))
	require.NoError(t, err)
	require.Len(t, infos, 1)
	return infos[0]
}

// specification is what the page is told to make the limb's solver from.
func (l limb) specification(t testing.TB, character []byte) json.RawMessage {
	t.Helper()
	_, text, err := splitter.Split(wrenName, character, string(l.limbFile()))
	require.NoError(t, err)
	var said struct {
		Limbs []struct {
			Solver json.RawMessage `json:"solver"`
		} `json:"limbs"`
	}
	require.NoError(t, json.Unmarshal([]byte(text), &said))
	require.Len(t, said.Limbs, 1)
	return said.Limbs[0].Solver
}
