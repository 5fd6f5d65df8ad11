package asset

import (
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// bindTolerance is what float32 inverse bind matrices leave of a place, in heights
// of the character: entries of 2^-24, some joints from the origin.
const bindTolerance = 1e-5

func bindFile(t *testing.T, o fixture.Options) (*File, fixture.Character) {
	t.Helper()
	character, err := fixture.Build(o)
	require.NoError(t, err)
	f, err := Decode(character.Name, character.Data, character.FS())
	require.NoError(t, err)
	return f, character
}

// requireBind checks that the joints stand at rest as in the character that o makes
// without a pose, where node pose and bind pose are one.
func requireBind(t *testing.T, f *File, o fixture.Options, but ...string) {
	t.Helper()
	o.Posed, o.PosedIn, o.Clips = false, "", nil
	_, plain := bindFile(t, o)
	scene, err := plain.Scene()
	require.NoError(t, err)
	e, err := f.Evaluator()
	require.NoError(t, err)
	rest := e.World(Rest, 0)
	for key, name := range plain.Joints {
		if slices.Contains(but, key) {
			continue
		}
		want, got := scene.Pose("", 0).World(name), rest[e.Node(name)]
		for i := range want {
			require.InDelta(t, want[i], got[i], bindTolerance*max(1, plain.Height), "%s, element %d", name, i)
		}
	}
}

var posedOptions = map[string]fixture.Options{
	"posed":              {Posed: true},
	"a clip's frame":     {PosedIn: "wild"},
	"odd, mirrored":      {PosedIn: "wild", Axes: fixture.Odd, Mirrored: true},
	"turned root, small": {PosedIn: "wild", Axes: fixture.Odd, RootTurned: true, RootScale: 0.01},
	"mesh in centimetres, two skins, cuffs placed by skins alone": {Posed: true, Axes: fixture.Odd, OtherSpace: true, SeveralSkins: true, SharedMesh: true},
	"cuffs, children first": {PosedIn: "wild", SharedMesh: true, ChildrenFirst: true},
}

func TestRestIsTheBindPose(t *testing.T) {
	for name, o := range posedOptions {
		t.Run(name, func(t *testing.T) {
			f, character := bindFile(t, o)
			requireBind(t, f, o)
			p, err := f.poses()
			require.NoError(t, err)
			require.Empty(t, p.torn)
			require.Contains(t, p.posed, true)

			// The node pose is what a viewer shows without a clip.
			scene, err := character.Scene()
			require.NoError(t, err)
			e, err := f.Evaluator()
			require.NoError(t, err)
			for i, v := range e.Vertices(e.World(NodePose, 0)) {
				want := scene.Pose("", 0).Vertices()[i]
				require.InDelta(t, 0, r3.Norm(r3.Sub(v, r3.Vec{X: want[0], Y: want[1], Z: want[2]})), 1e-9*character.Height)
				if i == 100 {
					break
				}
			}
		})
	}
}

// Where the node pose is the bind pose, it is left exactly so.
func TestRestIsTheNodePoseWhereTheyAreOne(t *testing.T) {
	for name, o := range map[string]fixture.Options{
		"plain":           {},
		"odd, mirrored":   {Axes: fixture.Odd, Mirrored: true},
		"other space":     {Axes: fixture.Odd, OtherSpace: true, RootScale: 0.01, RootTurned: true},
		"skins, matrices": {SeveralSkins: true, SharedMesh: true, Matrices: true},
	} {
		t.Run(name, func(t *testing.T) {
			f, _ := bindFile(t, o)
			p, err := f.poses()
			require.NoError(t, err)
			require.Equal(t, p.own, p.rest)
			require.NotContains(t, p.posed, true)
		})
	}
}

// Without inverse bind matrices there is no bind pose, before a split or after it.
func TestRestWithoutBindPose(t *testing.T) {
	f, _ := bindFile(t, fixture.Options{NoInverseBind: true, Axes: fixture.Level, Posed: false})
	out, _, err := Split(f, Options{AsAsked: true})
	require.NoError(t, err)
	for _, f := range []*File{f, out} {
		p, err := f.poses()
		require.NoError(t, err)
		require.Equal(t, p.own, p.rest)
	}
}

// Skins that disagree about a joint leave it its node pose, and are reported; the
// others are at rest all the same.
func TestSkinsThatDisagree(t *testing.T) {
	o := fixture.Options{Posed: true, SharedMesh: true, TornCuff: true}
	f, character := bindFile(t, o)
	requireBind(t, f, o, "hand_l")
	p, err := f.poses()
	require.NoError(t, err)
	hand, err := f.node(character.Joints["hand_l"])
	require.NoError(t, err)
	require.Equal(t, []int{hand}, p.torn)
	require.Equal(t, p.own[hand], p.rest[hand])
	_, report, err := Split(f, Options{AsAsked: true})
	require.NoError(t, err)
	require.Contains(t, report.Warnings, `skins disagree about the bind pose of 1 joint ("hand_l"), whose node pose is taken for rest`)
	require.Less(t, report.RestErrorMax, 1e-7)
}

func TestTornWarning(t *testing.T) {
	f, _ := bindFile(t, fixture.Options{})
	require.Empty(t, f.tornWarning(nil))
	require.Equal(t, []string{`skins disagree about the bind pose of 5 joints ("pelvis", "chest", "head", "upper_arm_l", …), whose node pose is taken for rest`}, f.tornWarning([]int{0, 1, 2, 3, 4}))
}

// Matrices without an inverse, and numbers that are none, leave the node its own.
func TestInverted(t *testing.T) {
	m := mgl64.Translate3D(1, 2, 3).Mul4(mgl64.HomogRotate3D(1, mgl64.Vec3{0.6, 0, 0.8})).Mul4(mgl64.Scale3D(1e-5, 2e-5, -3e-5))
	inverse, ok := inverted(m)
	require.True(t, ok)
	for i, x := range m.Mul4(inverse) {
		require.InDelta(t, mgl64.Ident4()[i], x, 1e-12)
	}
	for _, bad := range []mgl64.Mat4{{}, mgl64.Scale3D(1, 0, 1), mgl64.Scale3D(math.NaN(), 1, 1), mgl64.Scale3D(math.Inf(1), 1, 1), mgl64.Translate3D(math.NaN(), 0, 0)} {
		_, ok := inverted(bad)
		require.False(t, ok, "%v", bad)
	}
}
