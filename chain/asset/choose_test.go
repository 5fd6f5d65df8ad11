package asset_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/fixture/people"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
)

// person builds one of the generated people.
func person(t *testing.T, o people.PersonOptions) *asset.File {
	t.Helper()
	built, err := people.Person(o)
	require.NoError(t, err)
	return decoded(t, built)
}

func decoded(t *testing.T, built fixture.Character) *asset.File {
	t.Helper()
	f, err := asset.Decode(built.Name, built.Data, built.FS())
	require.NoError(t, err)
	return f
}

// strains are the strains of all of a file's skin at the times of a clip, against
// rest.
func strains(t *testing.T, f *asset.File, clip string, times []float64) (out []float64) {
	t.Helper()
	e, err := f.Evaluator()
	require.NoError(t, err)
	triangles, err := e.Triangles()
	require.NoError(t, err)
	rest := e.Vertices(e.World(asset.Rest, 0))
	mean := skin.NewStrainMean(rest, triangles)
	number := slices.Index(e.Clips(), clip)
	require.GreaterOrEqual(t, number, 0)
	for _, at := range times {
		out = append(out, mean.Of(skin.Strains(nil, rest, e.Vertices(e.World(number, at)), triangles)))
	}
	return out
}

// wanted is a pose and what the split may make of it.
type wanted struct {
	name  string
	joint string
	turn  quat.Number // from rest
	most  float64     // strain over the source's
}

// posesOf are the twelve poses of ../shared/tools/strain/people.py, as rotations from
// rest; the world's axes are those of the joints' frames here.
func posesOf(t *testing.T, f *asset.File, half float64) (out []wanted) {
	t.Helper()
	infos, err := asset.Resolve(f, nil)
	require.NoError(t, err)
	byName := map[string]asset.LimbInfo{}
	for _, l := range infos {
		byName[l.Spec.Name] = l
	}
	const degree = math.Pi / 180
	arm, thigh, forearm := byName["left upper arm"], byName["left thigh"], byName["left forearm"]
	require.NotEmpty(t, arm.Spec.Joint)
	e, err := f.Evaluator()
	require.NoError(t, err)
	world := e.World(asset.Rest, 0)
	about := func(l asset.LimbInfo, axis r3.Vec, degrees, twisted float64) quat.Number {
		// A rotation of the world, seen from the joint at rest.
		m := world[l.Joint]
		in := r3.Vec{
			X: axis.X*m[0] + axis.Y*m[1] + axis.Z*m[2],
			Y: axis.X*m[4] + axis.Y*m[5] + axis.Z*m[6],
			Z: axis.X*m[8] + axis.Y*m[9] + axis.Z*m[10],
		}
		return quat.Mul(twist.About(in, degrees*degree), twist.About(l.TurnAxis, twisted*degree))
	}
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	add := func(name string, l asset.LimbInfo, axis r3.Vec, degrees, twisted, most float64) {
		out = append(out, wanted{name, l.Spec.Joint, about(l, axis, degrees, twisted), most})
	}
	const kept = 1.03
	add("arm raised 85", arm, z, 85, 0, kept)
	add("arm lowered 75", arm, z, -75, 0, kept)
	add("arm forward 90", arm, y, -90, 0, kept)
	add("arm raised 85, twisted 90", arm, z, 85, 90, kept)
	add("arm raised 85, twisted -90", arm, z, 85, -90, kept)
	add("arm lowered, twisted 60", arm, z, -75, 60, kept)
	add("thigh raised 90", thigh, x, -90, 0, kept)
	add("thigh out 45", thigh, z, 45, 0, kept)
	add("thigh raised 60, twisted 45", thigh, x, -60, 45, kept)
	add("thigh twisted 90", thigh, x, 0, 90, half)
	for _, degrees := range []float64{90, -90} {
		out = append(out, wanted{"palm", forearm.Spec.Tip, twist.About(forearm.TipAxis, degrees*degree), kept})
	}
	return out
}

// A default split makes no pose of a person worse, whatever the person wears and
// however the arms are held at rest, and halves the strain of a twisted thigh.
func TestNoPoseGetsWorse(t *testing.T) {
	if testing.Short() {
		t.Skip("people have many vertices")
	}
	for name, o := range map[string]people.PersonOptions{
		"arms out":       {Arms: people.ArmsOut},
		"arms half down": {Arms: people.ArmsHalfDown},
		"dressed":        {Arms: people.ArmsOut, Sleeves: true, Gloves: true, Pouch: true, KneePads: true, Skirt: true},
	} {
		t.Run(name, func(t *testing.T) {
			f := person(t, o)
			half := 0.5
			if o.Skirt {
				half = 1.03 // which is round both thighs and hangs on the hips
			}
			poses := posesOf(t, f, half)
			clip := asset.NewClip{Name: "poses", Times: []float64{0}, Step: true}
			joints := map[string]int{}
			for i, p := range poses {
				clip.Times = append(clip.Times, float64(i+1))
				if _, known := joints[p.joint]; !known {
					joints[p.joint] = len(clip.Joints)
					still := make([]quat.Number, len(poses)+1)
					for k := range still {
						still[k] = quat.Number{Real: 1}
					}
					clip.Joints = append(clip.Joints, asset.JointTurns{Joint: p.joint, FromRest: still})
				}
			}
			for i, p := range poses {
				clip.Joints[joints[p.joint]].FromRest[i+1] = p.turn
			}
			posed, err := asset.AddClip(f, clip)
			require.NoError(t, err)
			split, report, err := asset.Split(posed, asset.Options{})
			require.NoError(t, err)
			require.NotEmpty(t, report.Limbs)
			before, after := strains(t, posed, "poses", clip.Times[1:]), strains(t, split, "poses", clip.Times[1:])
			for i, p := range poses {
				require.LessOrEqual(t, after[i], p.most*before[i]+1e-5, "%s: %.5f before, %.5f after", p.name, before[i], after[i])
			}
			for _, c := range report.Choices {
				require.NotEmpty(t, c.Reason, c.Limb)
				if c.Split {
					require.NotNil(t, c.Best, c.Limb)
					require.Less(t, c.Best.Split, 0.9*c.Best.Source, "%s gains nothing", c.Limb)
				}
			}
		})
	}
}

// Raised from a T-pose to 85 degrees in the frontal plane, with no twist, an arm is
// given 10 degrees of twist at most.
func TestRaisedArmIsNotTwisted(t *testing.T) {
	if testing.Short() {
		t.Skip("people have many vertices")
	}
	f := person(t, people.PersonOptions{Arms: people.ArmsOut})
	tested := 0
	for _, limbs := range [][]asset.LimbSpec{nil, detectedLimbs(t, f)} {
		infos, err := asset.Resolve(f, limbs)
		require.NoError(t, err)
		for _, l := range infos {
			if l.Range.IsZero() || l.RangeSpec.Name != asset.RangeShoulder {
				continue
			}
			tested++
			for degrees := 0.; degrees <= 85; degrees += 5 {
				// In the frontal plane flexion is 0, and past the side half a turn.
				_, rest := l.Range.Angles(l.TurnAxis)
				raised := rest + degrees*math.Pi/180
				flexion := 0.
				if raised > math.Pi/2 {
					flexion, raised = math.Pi, math.Pi-raised
				}
				arc, _ := swing.Arc(l.TurnAxis, l.Range.Direction(flexion, raised))
				s, determined := l.Field.Swing(l.Range.Direction(flexion, raised))
				require.True(t, determined)
				between := quat.Mul(quat.Conj(s), arc)
				angle := 2 * math.Atan2(math.Sqrt(between.Imag*between.Imag+between.Jmag*between.Jmag+between.Kmag*between.Kmag), math.Abs(between.Real))
				require.LessOrEqual(t, angle, 10*math.Pi/180, "%s raised by %g degrees", l.Spec.Name, degrees)
			}
		}
	}
	require.Equal(t, 4, tested)
}

func detectedLimbs(t *testing.T, f *asset.File) []asset.LimbSpec {
	t.Helper()
	limbs, _, err := asset.Choose(f, nil, asset.Options{})
	require.NoError(t, err)
	return limbs.Limbs
}

// Where no skin joins limb and torso, or limbs are rigid, a thigh or an upper arm stays
// as it is; the output is then the source itself.
func TestNothingToGain(t *testing.T) {
	if testing.Short() {
		t.Skip("they have many vertices")
	}
	built, err := people.Mannequin("mannequin", people.SideFirst)
	require.NoError(t, err)
	_, report, err := asset.Split(decoded(t, built), asset.Options{})
	require.NoError(t, err)
	for _, c := range report.Choices {
		if c.Split {
			require.Contains(t, c.Limb, "forearm")
		}
	}
	built, err = people.Robot("robot", people.SideFirst)
	require.NoError(t, err)
	f := decoded(t, built)
	out, report, err := asset.Split(f, asset.Options{})
	require.NoError(t, err)
	require.Same(t, f, out)
	require.Empty(t, report.Limbs)
	require.NotEmpty(t, report.Choices)
	for _, c := range report.Choices {
		require.False(t, c.Split)
		require.Contains(t, c.Reason, "it stays as it is: ")
	}
}

// What a limb file says is kept, and its loss reported; as asked, nothing is measured.
func TestExplicitSettingsAreKept(t *testing.T) {
	if testing.Short() {
		t.Skip("people have many vertices")
	}
	f := person(t, people.PersonOptions{Arms: people.ArmsOut})
	detected, err := asset.Detect(f)
	require.NoError(t, err)
	for i := range detected.Limbs {
		detected.Limbs[i].Segments = 2
		if detected.Limbs[i].Twist == asset.TwistOwn {
			detected.Limbs[i].Field = asset.FieldLeastRoll
		}
	}
	_, report, err := asset.Split(f, asset.Options{Limbs: detected.Limbs})
	require.NoError(t, err)
	require.Len(t, report.Limbs, 6)
	worse := 0
	for i, c := range report.Choices {
		require.True(t, c.Split)
		require.Len(t, report.Limbs[i].Segments, 2)
		if c.WorsePoses > 0 {
			worse++
			require.Contains(t, c.Reason, "split as the limb file asks, though the skin is worse in")
		}
	}
	require.Positive(t, worse, "two segments and the least roll lose nothing")
	_, report, err = asset.Split(f, asset.Options{Limbs: detected.Limbs, AsAsked: true})
	require.NoError(t, err)
	require.Empty(t, report.Choices)
	require.Len(t, report.Limbs, 6)
}
