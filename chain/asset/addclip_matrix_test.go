package asset_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Nodes with a matrix, mirrored ones too, get its parts: nothing moves at rest, and
// the rotations come about where the node's own stands, outside its scale.
func TestAddClipTakesMatricesApart(t *testing.T) {
	q := twist.About(r3.Unit(r3.Vec{X: 1, Y: 2, Z: -1}), 1.1)
	for _, o := range []fixture.Options{
		{Matrices: true}, {Matrices: true, Axes: fixture.Odd, Mirrored: true, RootScale: 0.01, RootTurned: true},
		{Matrices: true, Axes: fixture.Odd, Posed: true, Clips: []string{"bend hand"}, Furnishings: true},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		source, err := asset.Decode(character.Name, character.Data, character.FS())
		require.NoError(t, err)
		clip := asset.NewClip{Name: "turn", Times: []float64{0}}
		for _, joint := range character.Joints {
			clip.Joints = append(clip.Joints, asset.JointTurns{Joint: joint, FromRest: []quat.Number{q}})
		}
		f, err := asset.AddClip(source, clip)
		require.NoError(t, err)
		e, err := source.Evaluator()
		require.NoError(t, err)
		after, err := f.Evaluator()
		require.NoError(t, err)
		for i, m := range e.World(-1, 0) {
			for k := range m {
				require.InDelta(t, m[k], after.World(-1, 0)[i][k], 1e-13, "node %d, element %d", i, k)
			}
		}
		data, err := f.Encode(true, false)
		require.NoError(t, err)
		scene, err := player.Load(data)
		require.NoError(t, err)
		world, turned := e.World(-1, 0), after.World(len(after.Clips())-1, 0)
		mirrors := 0
		for i, n := range source.Doc.Nodes {
			for _, child := range n.Children {
				own := f.Doc.Nodes[child]
				if _, ok := valueOf(character.Joints, own.Name); !ok {
					continue
				}
				require.Equal(t, mgl64.Ident4(), mgl64.Mat4(own.MatrixOrDefault()))
				if own.Scale[0] < 0 {
					mirrors++
				}
				scale := mgl64.Scale3D(own.Scale[0], own.Scale[1], own.Scale[2])
				want := world[i].Inv().Mul4(world[child]).Mul4(scale.Inv()).Mul4(rest.Frame{Rotation: q}.Mat4()).Mul4(scale)
				requireAddClipMat(t, want, turned[i].Inv().Mul4(turned[child]))
				if _, ok := valueOf(character.Joints, n.Name); ok {
					pose := scene.Pose("turn", 0)
					requireAddClipMat(t, want, pose.World(n.Name).Inv().Mul4(pose.World(own.Name)))
				}
			}
		}
		require.Equal(t, o.Mirrored, mirrors > 0)
	}
}

// valueOf finds a value in a map.
func valueOf(m map[string]string, value string) (key string, ok bool) {
	for k, v := range m {
		if v == value {
			return k, true
		}
	}
	return "", false
}

// matrixFile has one joint with a matrix and members that nobody knows.
func matrixFile(t *testing.T, m mgl64.Mat4) *asset.File {
	text := fmt.Sprintf(`{"asset":{"version":"2.0"},"buffers":[{"byteLength":4,"uri":"data:application/octet-stream;base64,AAAAAA=="}],
		"nodes":[{"name":"stone","matrix":[%.17g,%.17g,%.17g,0,%.17g,%.17g,%.17g,0,%.17g,%.17g,%.17g,0,1,2,3,1],"extras":{"weight":2},"fancy":[1],"children":[1]},{}]}`,
		m[0], m[1], m[2], m[4], m[5], m[6], m[8], m[9], m[10])
	f, err := asset.Decode("stone.gltf", []byte(text), nil)
	require.NoError(t, err)
	return f
}

// Any scale comes apart exactly, the node's other members stay, and what no clip can
// move is refused.
func TestAddClipOnMatrices(t *testing.T) {
	turn := rest.Frame{Rotation: twist.About(r3.Unit(r3.Vec{X: -1, Y: 3, Z: 2}), 2.5)}.Mat4()
	clip := asset.NewClip{Name: "n", Times: []float64{0}, Joints: []asset.JointTurns{{Joint: "#0", FromRest: []quat.Number{{Real: 1}}}}}
	for _, scale := range []mgl64.Vec3{{1, 1, 1}, {2, 2, 2}, {1, 2, 3}, {-1, 1, 1}, {-1, -1, -1}, {1, -1, 1}, {3, 1, -2}, {1, -2, -3}, {1e-4, 1, 1}} {
		m := turn.Mul4(mgl64.Scale3D(scale.Elem()))
		source := matrixFile(t, m)
		f, err := asset.AddClip(source, clip)
		require.NoError(t, err)
		e, err := f.Evaluator()
		require.NoError(t, err)
		m.SetCol(3, mgl64.Vec4{1, 2, 3, 1})
		for clip, tolerance := range map[int]float64{-1: 1e-14, 0: addClipStored} {
			for k, x := range e.World(clip, 0)[0] {
				require.InDelta(t, m[k], x, tolerance*scale.Len(), "scale %v, clip %d", scale, clip)
			}
		}
		data, err := f.Encode(false, false)
		require.NoError(t, err)
		require.Contains(t, string(data), `"extras":{"weight":2}`)
		require.Contains(t, string(data), `"fancy":[1]`)
		require.NotContains(t, string(data), `"matrix"`)
	}
	for message, m := range map[string]mgl64.Mat4{
		`stone.gltf: new clip "n": joint "stone": its node's matrix has a shear of 0.081, expected`: {1, 0, 0, 0, 0.2, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1},
		`stone.gltf: new clip "n": joint "stone": its node's matrix is flat`:                        turn.Mul4(mgl64.Scale3D(1, 0, 1)),
		`joint "stone": its node's matrix is flat`:                                                  {},
	} {
		_, err := asset.AddClip(matrixFile(t, m), clip)
		require.ErrorContains(t, err, message)
		require.NotContains(t, err.Error(), "\n")
	}
	// What float32 makes of a matrix without shear is none.
	m := turn.Mul4(mgl64.Scale3D(1, 2, 3))
	for i := range m {
		m[i] = float64(math.Float32frombits(math.Float32bits(float32(m[i])) + 2))
	}
	_, err := asset.AddClip(matrixFile(t, m), clip)
	require.NoError(t, err)
}
