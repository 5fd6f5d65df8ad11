package asset

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// settle turns places in the world into transforms of nodes.
func (b *binder) settle(p *poses) {
	p.rest, p.noise = slices.Clone(p.own), bindNoise*b.reach
	exact := make([]mgl64.Mat4, len(b.order))
	for _, node := range b.order {
		up := mgl64.Ident4()
		if parent := b.file.parent[node]; parent >= 0 {
			up = exact[parent]
		}
		place, bound := b.place[node]
		if b.torn[node] {
			p.torn = append(p.torn, node)
			bound = false
		}
		exact[node] = up.Mul4(p.own[node].mat4())
		if !bound {
			continue
		}
		if !b.same(exact[node], place, bindNoise) {
			local, ok := b.local(p.own[node], up, place)
			if !ok {
				continue
			}
			p.rest[node], p.posed[node] = local, true
		}
		// Children are measured from the bind pose itself: noise must not add up.
		exact[node] = place
	}
	slices.Sort(p.torn)
}

// local is the transform that puts a node into its place below what stands at up.
// Parts that are the node's own, but for noise, are left exactly so.
func (b *binder) local(own transform, up, place mgl64.Mat4) (transform, bool) {
	back, ok := inverted(up)
	if !ok {
		return own, false
	}
	m := back.Mul4(place)
	if !isFinite(m) {
		return own, false
	}
	x, shear := takenApartLike(m, own.scale)
	if up.Mat3().Mul3x1(mgl64.Vec3(x.translation).Sub(own.translation)).Len() <= bindNoise*b.reach {
		x.translation = own.translation
	}
	if turn(x.rotation, own.rotation) <= bindNoise {
		x.rotation = own.rotation
	}
	greatest := max(math.Abs(x.scale[0]), math.Abs(x.scale[1]), math.Abs(x.scale[2]))
	off := mgl64.Vec3(x.scale).Sub(own.scale)
	if max(math.Abs(off[0]), math.Abs(off[1]), math.Abs(off[2])) <= bindNoise*greatest {
		x.scale = own.scale
	} else if s := (x.scale[0] + x.scale[1] + x.scale[2]) / 3; greatest-min(x.scale[0], x.scale[1], x.scale[2]) <= bindNoise*greatest {
		x.scale = [3]float64{s, s, s}
	}
	if shear > someTilt {
		x.matrix = &m
	}
	return x, true
}

// tornWarning reports the joints about whose bind pose skins disagree.
func (f *File) tornWarning(torn []int) []string {
	if len(torn) == 0 {
		return nil
	}
	const most = 4
	var names []string
	for _, joint := range torn[:min(len(torn), most)] {
		names = append(names, strconv.Quote(f.ref(joint)))
	}
	if len(torn) > most {
		names = append(names, "…")
	}
	joints := "joint"
	if len(torn) > 1 {
		joints = "joints"
	}
	return []string{fmt.Sprintf("skins disagree about the bind pose of %d %s (%s), whose node pose is taken for rest", len(torn), joints, strings.Join(names, ", "))}
}
