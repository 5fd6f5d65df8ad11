package skin_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// boxes are two cubes held by joints 0 and 1, of 10 and 4 cm, 1 cm apart along X.
func boxes() skin.Mesh {
	var m skin.Mesh
	for joint, box := range []struct{ x, half float64 }{{0, 0.05}, {0.08, 0.02}} {
		first := len(m.Positions)
		for corner := range 8 {
			side := func(bit int) float64 { return box.half * float64(2*(corner>>bit&1)-1) }
			m.Positions = append(m.Positions, r3.Vec{X: box.x + side(0), Y: side(1), Z: side(2)})
			m.Influences = append(m.Influences, []skin.Influence{{Joint: joint, Weight: 1}})
		}
		for _, face := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
			a, b, c, d := first+face[0], first+face[1], first+face[2], first+face[3]
			m.Triangles = append(m.Triangles, [3]int{a, b, c}, [3]int{a, c, d})
		}
	}
	return m
}

// The smaller of two boxes, which have 1 cm between them, comes 3 cm nearer.
func ExampleNewFold() {
	m := boxes()
	a, b := m.Sides([]int{0}, []int{1})
	fold, err := skin.NewFold(m, a, b, skin.Hinge{At: r3.Vec{X: 0.05}, Radius: 0.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	posed := append([]r3.Vec(nil), m.Positions...)
	for i := 8; i < 16; i++ {
		posed[i].X -= 0.03
	}
	_, depth := fold.Measure(nil, posed)
	fmt.Printf("%d vertices inside, the deepest by %.0f mm\n", depth.Inside, 1000*depth.Worst)
	// Output: 4 vertices inside, the deepest by 20 mm
}
