package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// All of Wren's skin as one mesh, posed by a clip: blended linearly, as glTF has it,
// and by dual quaternions.
func ExampleEvaluator_Mesh() {
	e, err := wren().Evaluator()
	if err != nil {
		fmt.Println(err)
		return
	}
	mesh, err := e.Mesh()
	if err != nil {
		fmt.Println(err)
		return
	}
	first, last := e.Span(0)
	world := e.World(0, (first+last)/2)
	linear, blended := e.Vertices(world), e.Blended(nil, mesh, world)

	apart := 0.
	for i := range linear {
		apart = max(apart, r3.Norm(r3.Sub(linear[i], blended[i])))
	}
	fmt.Println(len(linear) == len(mesh.Positions), apart > 0)

	// Triangles are those of the mesh, and measures of package skin take them.
	triangles, err := e.Triangles()
	if err != nil {
		fmt.Println(err)
		return
	}
	squeezed := 0.
	for _, s := range skin.Strains(nil, mesh.Positions, linear, triangles) {
		squeezed = max(squeezed, s.Squeeze())
	}
	fmt.Println(len(triangles) == len(mesh.Triangles), squeezed > 0, squeezed < 1)
	// Output:
	// true true
	// true true true
}

// A character without its clips, and what is left of them: nothing to play.
func ExampleWithoutClips() {
	still, err := asset.WithoutClips(wren())
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := still.Evaluator()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(wren().Doc.Animations), len(e.Clips()))
	// Output: 4 0
}
