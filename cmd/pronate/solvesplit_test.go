package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// withinBake is by how many degrees a baked curve may leave the solver's, and what
// single precision adds: a few parts in 2^24 of a quaternion, on both sides.
const withinBake = 0.05 + 0.001

// sideAtEnd is the side at the end of the names of the characters here, or nothing.
var sideAtEnd = regexp.MustCompile(`(_[lr])?$`)

// Rotations taken from a character as the help has it, R^-1 K and for a tip K R^-1,
// give with --local what split bakes into the leaf joints, R being of the bind pose, as a reader that shares
// no code with it plays them; inside mirrored scales too.
func TestSolveInCharacterIsWhatSplitBakes(t *testing.T) {
	data, err := demo.Wren()
	require.NoError(t, err)
	characters := map[string][]byte{"wren": data}
	bound := map[string][]byte{"wren": data} // the same with the nodes in the bind pose
	clips := []string{"swing", "twist thigh", "bend hand", "turn hand"}
	for name, o := range map[string]fixture.Options{
		"odd": {Axes: fixture.Odd, Posed: true, Clips: clips}, "mirrored": {Axes: fixture.Odd, Mirrored: true, Clips: clips},
	} {
		c, err := fixture.Build(o)
		require.NoError(t, err)
		characters[name] = c.Data
		o.Posed = false
		c, err = fixture.Build(o)
		require.NoError(t, err)
		bound[name] = c.Data
	}
	for name, data := range characters {
		path := filepath.Join(t.TempDir(), name+".glb")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		file, err := asset.Open(path)
		require.NoError(t, err)
		infos, err := asset.Resolve(file, nil)
		require.NoError(t, err)
		split, _, err := asset.Split(file, asset.Options{})
		require.NoError(t, err)
		baked, err := split.Encode(true, false)
		require.NoError(t, err)
		before, err := player.Load(data)
		require.NoError(t, err)
		after, err := player.Load(baked)
		require.NoError(t, err)
		bind, err := player.Load(bound[name])
		require.NoError(t, err)
		for _, info := range infos {
			requireBaked(t, bind.Pose("", 0), before, after, info, path)
		}
	}
}

func requireBaked(t *testing.T, bind player.Pose, before, after *player.Scene, info asset.LimbInfo, path string) {
	t.Helper()
	type moment struct {
		clip string
		time float64
	}
	var moments []moment
	var in strings.Builder
	list := func(q quat.Number) string { v := xyzw(q); n := numbers(v[:]); return "[" + n.String() + "]" }
	for _, clip := range before.Clips() {
		for k := range 10 {
			time := before.Duration(clip) * float64(k) / 9
			moments = append(moments, moment{clip, time})
			turn := func(joint string) (atRest, now quat.Number) {
				return fromXYZW(bind.Rotation(joint)), fromXYZW(before.Pose(clip, time).Rotation(joint))
			}
			r, q := turn(info.Spec.Joint)
			in.WriteString(`{"rotation":` + list(quat.Mul(quat.Conj(r), q)))
			if info.Tip >= 0 {
				r, q := turn(info.Spec.Tip)
				in.WriteString(`,"tip":` + list(quat.Mul(q, quat.Conj(r))))
			}
			in.WriteString("}\n")
		}
	}
	got := pronate(t, in.String(), "solve", "--local", "--character", path, "--limb", info.Spec.Joint)
	require.Equal(t, exitDone, got.code, got.err)
	answers := strings.Split(strings.TrimSpace(got.out), "\n")
	require.Len(t, answers, len(moments))
	most := 0.0
	for i, m := range moments {
		for k, segment := range answer(t, answers[i]).Segments {
			leaf := sideAtEnd.ReplaceAllString(info.Spec.Joint, fmt.Sprintf("_segment%d${1}", k+1))
			off := quat.Mul(quat.Conj(fromXYZW(segment)), fromXYZW(after.Pose(m.clip, m.time).Rotation(leaf)))
			angle := 2 * math.Atan2(math.Hypot(math.Hypot(off.Imag, off.Jmag), off.Kmag), math.Abs(off.Real)) * 180 / math.Pi
			require.LessOrEqual(t, angle, withinBake, "%s, %s at %g s in %s", path, leaf, m.time, m.clip)
			most = max(most, 2*math.Abs(math.Atan2(math.Hypot(segment[0], math.Hypot(segment[1], segment[2])), segment[3])))
		}
	}
	if strings.Contains(info.Spec.Joint, "thigh_l") {
		require.Greater(t, most, 0.1, "the clips turn the limb")
	}
}
