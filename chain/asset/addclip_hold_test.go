package asset

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// A clip that is added starts from the bind pose: what it does not turn is at rest.
func TestAddClipStartsFromTheBindPose(t *testing.T) {
	for name, o := range posedOptions {
		t.Run(name, func(t *testing.T) {
			f, character := bindFile(t, o)
			shin := character.Joints["shin_l"]
			turn := quat.Number{Real: math.Cos(0.3), Imag: math.Sin(0.3)}
			added, err := AddClip(f, NewClip{Name: "bend", Times: []float64{0.5, 1}, Joints: []JointTurns{{Joint: shin, FromRest: []quat.Number{{Real: 1}, turn}}}})
			require.NoError(t, err)
			e, err := added.Evaluator()
			require.NoError(t, err)
			rest, clip := e.World(Rest, 0), len(e.Clips())-1
			for i, m := range e.World(clip, 0) {
				for k := range m {
					require.InDelta(t, rest[i][k], m[k], 1e-6*max(1, math.Abs(m[k])), "node %d", i)
				}
			}
			node := e.Node(shin)
			local := func(world []mgl64.Mat4) mgl64.Mat4 { return world[f.parent[node]].Inv().Mul4(world[node]) }
			if o.Mirrored || o.RootScale != 0 {
				return
			}
			want := local(rest).Mul4(mgl64.Quat{W: turn.Real, V: mgl64.Vec3{turn.Imag, 0, 0}}.Mat4())
			got := local(e.World(clip, 1))
			for k := range want {
				require.InDelta(t, want[k], got[k], 1e-6)
			}
		})
	}
}
