package asset

import (
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Blended is dual-quaternion skinning of the mesh as it is stored (Kavan, Collins,
// Zara and O'Sullivan 2008, "Geometric skinning with approximate dual quaternion
// blending", ACM TOG 27(4):105, from memory): world times inverse bind matrix of each
// joint as a dual quaternion, signs as that of the heaviest, summed and normalised.
func TestBlendedIsFromTheBindPose(t *testing.T) {
	f, character := bindFile(t, fixture.Options{PosedIn: "wild", Clips: []string{"wild"}, Axes: fixture.Odd})
	e, err := f.Evaluator()
	require.NoError(t, err)
	m, err := e.Mesh()
	require.NoError(t, err)
	for _, clip := range []int{NodePose, 0} {
		world := e.World(clip, 0.7)
		got := e.Blended(nil, m, world)
		v := 0
		for _, worn := range e.worn {
			joints := f.Doc.Skins[worn.skin].Joints
			for i := range len(worn.positions) / 3 {
				at := mgl64.Vec3(worn.positions[3*i : 3*i+3])
				want := blended(at, worn.influences[0][i], func(joint uint16) mgl64.Mat4 {
					return world[joints[joint]].Mul4(e.inverseBind[worn.skin][joint])
				})
				require.InDelta(t, 0, r3.Norm(r3.Sub(got[v], want)), bindTolerance*character.Height)
				v++
			}
		}
		require.Len(t, got, v)
	}
}

func blended(at mgl64.Vec3, in influence, matrix func(joint uint16) mgl64.Mat4) r3.Vec {
	heaviest := slices.Index(in.weights[:], slices.Max(in.weights[:]))
	first := mgl64.Mat4ToQuat(matrix(in.joints[heaviest]))
	var real, dual mgl64.Quat
	for k, weight := range in.weights {
		if weight == 0 {
			continue
		}
		m := matrix(in.joints[k])
		q := mgl64.Mat4ToQuat(m).Normalize()
		if q.Dot(first) < 0 {
			q = q.Scale(-1)
		}
		real = real.Add(q.Scale(weight))
		dual = dual.Add(mgl64.Quat{V: m.Col(3).Vec3()}.Mul(q).Scale(weight / 2))
	}
	size := real.Len()
	real, dual = real.Scale(1/size), dual.Scale(1/size)
	moved := real.Rotate(at).Add(dual.Mul(real.Conjugate()).V.Mul(2))
	return r3.Vec{X: moved[0], Y: moved[1], Z: moved[2]}
}
