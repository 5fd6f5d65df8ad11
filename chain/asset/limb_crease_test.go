package asset

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A knee that folds eases both of its sides apart across the plane between the
// bones, whatever frames they have.
func TestCreaseRelief(t *testing.T) {
	for name, o := range map[string]tube{
		"plain":    {bone: [3]float64{0, -0.4, 0}},
		"odd axes": {rotation: tubeTurn, bone: tubeBone},
		"mirrored": {rotation: tubeTurn, bone: tubeBone, root: []any{1, -1, 1}},
		"scaled":   {rotation: tubeTurn, bone: tubeBone, root: []any{0.01, 0.01, 0.01}, scale: []any{2, 2, 2}},
	} {
		t.Run(name, func(t *testing.T) {
			// The knee turns about something square to the bone, by 120 degrees
			// and back.
			axis := mgl64.Vec3(o.bone).Cross(mgl64.Vec3{0.3, 0.2, 0.9}).Normalize()
			bend := func(degrees float64) []float64 {
				sin, cos := math.Sincos(degrees * math.Pi / 360)
				return []float64{axis[0] * sin, axis[1] * sin, axis[2] * sin, cos}
			}
			o.times = []float64{0, 1, 2}
			o.animation = []legChannel{{node: tubeShin, interpolation: "LINEAR", rotations: append(append(bend(0), bend(120)...), bend(0)...)}}
			most := 0.02
			if name == "scaled" { // a bone of 8 mm
				most = 0.0004
			}
			thigh, shin := thighLimb(), LimbSpec{Name: "shin", Joint: "shin", End: End{Joint: "foot"}, Segments: 2, Centre: Centre{Mode: CentreNone}}
			thigh.Crease = &Crease{At: CreaseAtEnd, Most: most, OnsetDeg: 30, FullDeg: 100}
			shin.Crease = &Crease{At: CreaseAtRoot, Most: most, OnsetDeg: 30, FullDeg: 100}
			c := splitTube(t, o, thigh, shin)
			metres := c.report.Limbs[0].Length
			for _, at := range tubeTimes {
				world := c.before.World(0, at)
				a, b := c.before.Vertices(world), c.after.Vertices(c.after.World(0, at))
				place := func(node int) mgl64.Vec3 { return world[node].Col(3).Vec3() }
				u := place(tubeThigh).Sub(place(tubeShin)).Normalize()
				v := place(tubeFoot).Sub(place(tubeShin)).Normalize()
				closed := 120 * (1 - math.Abs(1-at))
				x := min(max((closed-30)/70, 0), 1)
				want := u.Sub(v).Normalize().Mul(most * x * x * (3 - 2*x))
				for k := range 4 {
					move := func(vertex int) mgl64.Vec3 {
						d := r3.Sub(b[vertex], a[vertex])
						return mgl64.Vec3{d.X, d.Y, d.Z}
					}
					tolerance := 2*DefaultTolerance*metres + 1e-6*c.length
					require.InDelta(t, 0, move(k).Len(), tolerance, "the hip stays")
					require.InDelta(t, 0, move(8+k).Sub(want).Len(), tolerance, "the knee's upper side, at %g s", at)
					require.InDelta(t, 0, move(12+k).Sub(want.Mul(-0.5)).Len(), tolerance, "half-way down the shin, at %g s", at)
				}
			}
			require.InDelta(t, most, c.report.Limbs[0].ReliefMax, 1e-6)
			require.InDelta(t, most, c.report.Limbs[1].ReliefMax, 1e-6)
			_, places, sizes := c.channels()
			require.Equal(t, []int{2 + 1, 0}, []int{places, sizes}, "the segments at the far ends stay")
		})
	}
}

func TestShapeErrors(t *testing.T) {
	plain := tube{bone: [3]float64{0, 0.4, 0}}
	uneven := tube{bone: [3]float64{0, 0.4, 0}, scale: []any{1, 2, 1}}
	lone := tube{bone: [3]float64{0, 0.4, 0}, loneShin: true}
	crease := func(at string) *Crease { return &Crease{At: at, Most: 0.02} }
	for message, c := range map[string]struct {
		tube    tube
		stretch *Stretch
		crease  *Crease
	}{
		`stretch: there is no node "elbow", expected`:                                           {tube: plain, stretch: &Stretch{By: "elbow"}},
		`stretch: by is "#1", the limb's joint itself, expected another`:                        {tube: plain, stretch: &Stretch{By: "#1"}},
		`stretch limits is [1.2, 2], expected the least ratio`:                                  {tube: plain, stretch: &Stretch{Limits: [2]float64{1.2, 2}}},
		`crease: the joint is scaled unevenly, or by 0, expected one even scale`:                {tube: uneven, crease: crease(CreaseAtEnd)},
		`crease: at is end, and no joint below "shin" says where its bone points, expected one`: {tube: lone, crease: crease(CreaseAtEnd)},
		`crease: most_m is 0.25 m, expected 0.2 m at most, half of the bone's length, 0.4 m`:    {tube: plain, crease: &Crease{At: CreaseAtEnd, Most: 0.25}},
		`crease full_deg is 20, expected more than onset_deg, 30`:                               {tube: plain, crease: &Crease{At: CreaseAtEnd, Most: 1, OnsetDeg: 30, FullDeg: 20}},
	} {
		limb := thighLimb()
		limb.Stretch, limb.Crease = c.stretch, c.crease
		_, _, err := Split(c.tube.file(t), Options{AsAsked: true, Limbs: []LimbSpec{limb}})
		require.ErrorContains(t, err, message)
		require.ErrorContains(t, err, `small.glb: limb "thigh": `)
		require.NotContains(t, err.Error(), "\n")
	}
	_, _, err := Split(plain.file(t), Options{AsAsked: true, Limbs: []LimbSpec{{Name: "hip", Joint: "pelvis", End: End{Joint: "thigh"}, Crease: crease(CreaseAtRoot)}}})
	require.EqualError(t, err, `small.glb: limb "hip": crease: at is root, and no joint above stands away from it, expected a bone on the other side of the fold`)
}
