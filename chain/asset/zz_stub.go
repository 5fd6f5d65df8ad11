package asset

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

type stubPiece struct {
	of   []int
	base string
}

func (p stubPiece) name(k int) string { return p.base }

func (t *trials) piecesOf(i int) stubPiece {
	p := &t.source.worn[i]
	return stubPiece{of: make([]int, len(p.positions)/3), base: fmt.Sprint(p.mesh, "/", p.primitive)}
}

type SkinParts struct{ Pieces []string }

func (s *SkinParts) withPieces(p []string) *SkinParts { return &SkinParts{Pieces: p} }

func (t *trials) splitsOf(dst []skin.Split, held []skin.Influence, joined []joined, limbs []*limb, plans []plan, o trialOrigin, at r3.Vec) []skin.Split {
	r := reweighter{}
	return r.splits(dst, held, joined, []float64{at.X, at.Y, at.Z})
}

func (e *Evaluator) worldIn(c *clip, t float64) []mgl64.Mat4 {
	world := make([]mgl64.Mat4, len(e.rest))
	for _, node := range e.order {
		local := e.rest[node]
		if c != nil {
			local = local.at(c.nodes[node], t)
		}
		world[node] = local.mat4()
		if parent := e.file.parent[node]; parent >= 0 {
			world[node] = world[parent].Mul4(world[node])
		}
	}
	return world
}
