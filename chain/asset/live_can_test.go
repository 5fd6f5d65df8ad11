package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// What the standard cannot express exactly is not written, and the report says why.
func TestWhyNotLive(t *testing.T) {
	even, times := []any{1, 1, 1}, []float64{0, 1}
	turning := legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 40}}
	still := legChannel{node: 2, interpolation: "LINEAR", translations: []float64{0, 0, 0, 0, 0, 0}}
	for name, c := range map[string]struct {
		scale    []any
		channels []legChannel
		limb     func(*LimbSpec)
		file     func(*File)
		why      string // empty where it can be
	}{
		"a joint that stays where it is":      {channels: []legChannel{still}},
		"what is above is scaled evenly":      {channels: []legChannel{{node: 1, interpolation: "LINEAR", scales: []float64{1, 1, 1, 2, 2, 2}}}},
		"a mesh in another unit":              {scale: []any{0.01, 0.01, 0.01}},
		"a clip moves the joint":              {channels: []legChannel{{node: 2, interpolation: "LINEAR", translations: []float64{0, 0, 0, 0, 0.1, 0}}}, why: `clip "turn" moves its joint in the joint's parent`},
		"a spline moves it between its keys":  {channels: []legChannel{{node: 2, interpolation: "CUBICSPLINE", translations: []float64{0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}}}, why: `clip "turn" moves its joint`},
		"a clip scales it unevenly":           {channels: []legChannel{{node: 1, interpolation: "LINEAR", scales: []float64{1, 1, 1, 1, 2, 1}}}, why: `clip "turn" scales "thigh", or what is above it, unevenly`},
		"an uneven scale":                     {scale: []any{1, 2, 1}, why: `"mid" above it has an uneven or mirroring scale`},
		"a mirrored parent":                   {scale: []any{-1, 1, 1}, why: `"mid" above it has an uneven or mirroring scale`},
		"scales that make up for one another": {scale: []any{1, 0.5, 1}, file: func(f *File) { f.Doc.Nodes[0].Scale = [3]float64{1, 2, 1} }, why: `"mid" above it has an uneven or mirroring scale`},
		"an anchor further up":                {limb: func(l *LimbSpec) { l.Anchor = "pelvis" }, why: "its anchor is not the joint's parent"},
		"a tip that is a child":               {limb: func(l *LimbSpec) { l.Twist, l.Tip = TwistTip, "shin" }},
		"a tip further down":                  {limb: func(l *LimbSpec) { l.Joint, l.End, l.Twist, l.Tip = "mid", End{Joint: "shin"}, TwistTip, "shin" }, why: `"shin" is not a child of "mid"`},
		"shares that leave all as it is":      {limb: func(l *LimbSpec) { l.Shares.List = []float64{1, 1, 1} }, why: "nothing has to turn"},
		"a stretch":                           {limb: func(l *LimbSpec) { l.Stretch = &Stretch{By: StretchByEnd, Limits: [2]float64{0.5, 2}} }, why: "it stretches"},
		"a joint at the top":                  {limb: func(l *LimbSpec) { l.Joint, l.End = "pelvis", End{Joint: "shin"} }, why: "its joint has no parent"},
		"the best field of a range of motion": {limb: func(l *LimbSpec) {
			l.Centre, l.Range = Centre{}, Range{FlexionDeg: [2]float64{90, 179}, AbductionDeg: [2]float64{-40, 40}}
		}, why: isTable},
	} {
		t.Run(name, func(t *testing.T) {
			if c.scale == nil {
				c.scale = even
			}
			options := splitThigh("", 3)
			options.Live = LiveBesideClips
			if c.limb != nil {
				c.limb(&options.Limbs[0])
			}
			f := leg(t, c.scale, times, append([]legChannel{turning}, c.channels...)...)
			if c.file != nil {
				c.file(f)
			}
			split, report, err := Split(f, options)
			require.NoError(t, err)
			live := report.Limbs[0].Live
			require.Equal(t, c.why == "", live.Written, live.Why)
			require.Contains(t, live.Why, c.why)
			require.Equal(t, c.why == isTable, live.Nearest != nil)
			require.Equal(t, live.Written, len(split.Doc.ExtensionsUsed) == 1)
		})
	}
}

func TestLiveOptions(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0, 1}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 40}})
	for why, change := range map[string]func(*Options){
		"live is 7, expected":                                 func(o *Options) { o.Live = 7 },
		"expected no history with them":                       func(o *Options) { o.Live, o.History = LiveBesideClips, true },
		"nearest says what live constraints may stand in for": func(o *Options) { o.Nearest = true },
	} {
		options := splitThigh("", 3)
		change(&options)
		_, _, err := Split(f, options)
		require.ErrorContains(t, err, why)
	}
}

// No centre on a grid of all directions is nearer to a hip's best field than the one
// that is found.
func TestNearestIsNearest(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	for name, spec := range map[string]chain.Limb{
		"hip":      {Axis: r3.Vec{Y: -1}, Range: chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})},
		"shoulder": {Axis: r3.Vec{X: 0.6, Y: -0.8}, Range: chain.Shoulder(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})},
	} {
		solver, err := chain.NewSolver(spec)
		require.NoError(t, err)
		l := &limb{solver: solver, made: spec}
		found := l.nearestField()
		require.NotNil(t, found)
		const step, degree = 6 * math.Pi / 180, math.Pi / 180
		others := swings(solver.Field(), solver.Range(), 4*degree)
		least := math.Inf(1)
		for latitude := -90 * degree; latitude <= 90*degree; latitude += step {
			for longitude := 0.; longitude < 360*degree; longitude += step {
				centre := r3.Vec{X: math.Cos(latitude) * math.Cos(longitude), Y: math.Sin(latitude), Z: math.Cos(latitude) * math.Sin(longitude)}
				most, _ := difference(solver.Axis(), centre, others)
				least = min(least, most)
			}
		}
		require.LessOrEqual(t, found.ErrorMaxDeg*degree, least+0.2*degree, name) // it looks at a coarser grid of directions than it is judged on
		require.Greater(t, found.ErrorMaxDeg, 1.0)
		_, mean := difference(solver.Axis(), r3.Unit(vec(found.Centre)), swings(solver.Field(), solver.Range(), degree/4))
		require.InEpsilon(t, mean, found.ErrorRMSDeg*degree, 1e-3, name)
		require.InDelta(t, 1, r3.Norm(rest.Frame{}.Direction(vec(found.Centre))), 1e-3)
	}
}
