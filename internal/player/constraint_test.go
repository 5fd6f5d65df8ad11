package player

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// VRMC_node_constraint 1.0 (README of the extension in the repository of the VRM
// specification), its pseudocode worked out once in double precision: source at rest
// turned by 90 degrees about Z, destination by 30 about X, the source then by 40
// about Y and 60 about X; the aim's parent by 90 about Z, its source at (1, 2, 2)
// from it.
func TestConstraints(t *testing.T) {
	const degree = math.Pi / 180
	about := func(axis int, degrees float64) (q [4]float64) {
		q[axis], q[3] = math.Sin(degrees*degree/2), math.Cos(degrees*degree/2)
		return q
	}
	times := func(a, b [4]float64) [4]float64 {
		return [4]float64{
			a[3]*b[0] + a[0]*b[3] + a[1]*b[2] - a[2]*b[1], a[3]*b[1] - a[0]*b[2] + a[1]*b[3] + a[2]*b[0],
			a[3]*b[2] + a[0]*b[1] - a[1]*b[0] + a[2]*b[3], a[3]*b[3] - a[0]*b[0] - a[1]*b[1] - a[2]*b[2],
		}
	}
	text := func(q [4]float64) string { return fmt.Sprintf("[%.17g,%.17g,%.17g,%.17g]", q[0], q[1], q[2], q[3]) }
	sourceRest := about(2, 90)
	source := times(times(sourceRest, about(1, 40)), about(0, 60))
	for _, c := range []struct {
		constraint string
		want       [4]float64 // x, y, z, w
	}{
		{`"roll":{"source":0,"rollAxis":"Y"}`, [4]float64{0.240725933310, 0.354806428280, 0.095070095927, 0.898401413814}},
		{`"roll":{"source":0,"rollAxis":"Y","weight":0.5}`, [4]float64{0.254255535140, 0.180587338862, 0.048388231611, 0.948894575248}},
		{`"rotation":{"source":0,"weight":0.5}`, [4]float64{0.484757997140, 0.173454688643, -0.046477043745, 0.856015794014}},
		{`"aim":{"source":3,"aimAxis":"PositiveY"}`, [4]float64{0.684246991182, 0.119372108544, -0.445502774094, 0.564874882638}},
	} {
		scene, err := Load(fmt.Appendf(nil, `{"asset":{"version":"2.0"},"nodes":[
			{"name":"source","rotation":%s},
			{"name":"parent","rotation":%s,"children":[2]},
			{"name":"destination","rotation":%s,"extensions":{"VRMC_node_constraint":{"specVersion":"1.0","constraint":{%s}}}},
			{"name":"target","translation":[1,2,2]}]}`, text(sourceRest), text(about(2, 90)), text(about(0, 30)), c.constraint))
		require.NoError(t, err)
		got := scene.Turned(map[string][4]float64{"source": source}).Constrained().Rotation("destination")
		for i := range got {
			require.InDelta(t, c.want[i], got[i], 1e-11, "%s", c.constraint) // printed to twelve places
		}
	}
}

func TestConstraintsThatWaitForOneAnother(t *testing.T) {
	scene, err := Load([]byte(`{"asset":{"version":"2.0"},"nodes":[
		{"name":"a","extensions":{"VRMC_node_constraint":{"constraint":{"rotation":{"source":1}}}}},
		{"name":"b","extensions":{"VRMC_node_constraint":{"constraint":{"rotation":{"source":0}}}}}]}`))
	require.NoError(t, err)
	require.Panics(t, func() { scene.Turned(nil).Constrained() })
}
