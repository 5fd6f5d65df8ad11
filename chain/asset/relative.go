package asset

import (
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// descent is the way from a node down to one of its descendants: the nodes
// passed, the ancestor left out. An empty one is the ancestor itself.
type descent []int

// ways returns the descents to a and b from their nearest common ancestor. Two
// nodes with no common ancestor start from the scene.
func (f *File) ways(a, b int) (toA, toB descent) {
	above := map[int]int{} // ancestor of a, or a itself -> steps up
	for node, steps := a, 0; ; node, steps = f.parent[node], steps+1 {
		above[node] = steps
		if node < 0 {
			break
		}
	}
	common := b
	for {
		if _, ok := above[common]; ok {
			break
		}
		common = f.parent[common]
	}
	return f.down(common, a), f.down(common, b)
}

// down is the descent from ancestor (-1: the scene) to node.
func (f *File) down(ancestor, node int) descent {
	var way descent
	for ; node != ancestor; node = f.parent[node] {
		way = append(way, node)
	}
	for i, j := 0, len(way)-1; i < j; i, j = i+1, j-1 {
		way[i], way[j] = way[j], way[i]
	}
	return way
}

// standsOn is how near to a joint another one stands on it, as a share of the bone's
// length: no bone is that much shorter than the next one. What stands there only
// turns the joint, and where it stands exactly is as much rounding as direction.
const standsOn = 0.01

// away is the nearest joint above a joint, from the given one up, that stands away
// from it, for a bone of that length in the joint's frame; -1 for none.
func (f *File) away(joint, from int, p *poses, bone float64) int {
	if from < 0 {
		return from
	}
	m := walk{f.down(from, joint), p}.matrix(nil, 0)
	for !(seenFrom(m, mgl64.Vec3{}).Len() > standsOn*bone) {
		m = p.rest[from].mat4().Mul4(m)
		if from = f.parent[from]; from < 0 {
			break
		}
	}
	return from
}

// isAncestor reports whether a is above b, or b itself.
func (f *File) isAncestor(a, b int) bool {
	for ; b >= 0; b = f.parent[b] {
		if a == b {
			return true
		}
	}
	return false
}

// place is where the end of the walk stands at rest.
func (p walk) place() r3.Vec { return rest.VecFromMgl64(p.matrix(nil, 0).Col(3).Vec3()) }

// turner gives the rotation at the end of a descent, relative to where it
// starts, in any pose.
type turner struct {
	walk
	// skewed is set where a node before the last scales unevenly or mirrors:
	// then rotations do not simply multiply, and the matrix decides.
	skewed bool
	// mirrored is set where the way turns its end inside out: then the frame
	// that has a rotation is the end's own with x the other way, and rotations
	// from rest in it are mirror images of those in the end's own.
	mirrored bool
}

func (f *File) turner(way descent, p *poses, clips []clip) turner {
	t := turner{walk: walk{way, p}}
	for _, node := range way[:max(len(way)-1, 0)] { // a node's own scale does not turn it
		for _, x := range []transform{p.rest[node], p.own[node]} {
			t.skewed = t.skewed || !x.isUniform() || x.matrix != nil
		}
		for j := range clips {
			if tracks := clips[j].nodes[node]; tracks != nil && tracks.scale != nil {
				t.skewed = true
			}
		}
	}
	t.mirrored = t.skewed && t.frame(nil, 0).Det() < 0
	return t
}

// frame is the end's frame without its own scale, relative to where the
// descent starts; a nil clip is the rest pose.
func (t *turner) frame(c *clip, time float64) mgl64.Mat4 {
	last := len(t.way) - 1
	if last < 0 {
		return mgl64.Ident4()
	}
	own := t.local(c, t.way[last], time)
	own.scale, own.matrix = [3]float64{1, 1, 1}, nil
	return walk{t.way[:last], t.poses}.matrix(c, time).Mul4(own.mat4())
}

// tracks are the channels of a clip that can turn the end of the descent.
func (t *turner) tracks(c *clip) []*track {
	var out []*track
	for _, node := range t.way {
		tracks := c.nodes[node]
		if tracks == nil {
			continue
		}
		if tracks.rotation != nil {
			out = append(out, tracks.rotation)
		}
		if t.skewed && tracks.scale != nil {
			out = append(out, tracks.scale)
		}
	}
	return out
}

// at is the rotation at time t of a clip; a nil clip is the rest pose. On a
// mirrored way it is that of the end's frame with x the other way.
func (t *turner) at(c *clip, time float64) quat.Number {
	if t.skewed {
		m := t.frame(c, time)
		if t.mirrored {
			m = m.Mul4(mgl64.Scale3D(-1, 1, 1))
		}
		frame, _ := rest.Anchor(m)
		return frame.Unit()
	}
	q := quat.Number{Real: 1}
	for _, node := range t.way {
		q = quat.Mul(q, t.local(c, node, time).rotation)
	}
	return q
}
