package asset

import (
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
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

// isAncestor reports whether a is above b, or b itself.
func (f *File) isAncestor(a, b int) bool {
	for ; b >= 0; b = f.parent[b] {
		if a == b {
			return true
		}
	}
	return false
}

// turner gives the rotation at the end of a descent, relative to where it
// starts, in any pose.
type turner struct {
	way  descent
	rest []transform // of the nodes on the way
	// skewed is set where a node before the last scales unevenly or mirrors:
	// then rotations do not simply multiply, and the matrix decides.
	skewed bool
	// mirrored is set where the way turns its end inside out: then the frame
	// that has a rotation is the end's own with x the other way, and rotations
	// from rest in it are mirror images of those in the end's own.
	mirrored bool
}

func (f *File) turner(way descent, rest []transform, clips []clip) turner {
	t := turner{way: way}
	for i, node := range way {
		t.rest = append(t.rest, rest[node])
		if i == len(way)-1 { // a node's own scale does not turn it
			break
		}
		if !rest[node].isUniform() || rest[node].matrix != nil {
			t.skewed = true
		}
		for j := range clips {
			if tracks := clips[j].nodes[node]; tracks != nil && tracks.scale != nil {
				t.skewed = true
			}
		}
	}
	t.mirrored = t.skewed && t.matrix(nil, 0).Det() < 0
	return t
}

// matrix is the end's frame without its own scale, relative to where the
// descent starts; a nil clip is the rest pose.
func (t *turner) matrix(c *clip, time float64) mgl64.Mat4 {
	m := mgl64.Ident4()
	for i := range t.way {
		x := t.local(c, i, time)
		if i == len(t.way)-1 {
			x.scale, x.matrix = [3]float64{1, 1, 1}, nil
		}
		m = m.Mul4(x.mat4())
	}
	return m
}

func (t *turner) local(c *clip, i int, time float64) transform {
	if c == nil {
		return t.rest[i]
	}
	return t.rest[i].at(c.nodes[t.way[i]], time)
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
		m := t.matrix(c, time)
		if t.mirrored {
			m = m.Mul4(mgl64.Scale3D(-1, 1, 1))
		}
		frame, _ := rest.Anchor(m)
		return frame.Unit()
	}
	q := quat.Number{Real: 1}
	for i := range t.way {
		q = quat.Mul(q, t.local(c, i, time).rotation)
	}
	return q
}
