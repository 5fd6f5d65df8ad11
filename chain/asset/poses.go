package asset

import (
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// What [Evaluator.World] takes for a clip where it is to give a pose that the file
// holds without one.
const (
	// Rest is the bind pose: that in which the skins' inverse bind matrices have
	// the joints. Nodes that are no joints, and joints without a usable bind pose,
	// stand in it as the nodes hold them.
	Rest = -1
	// NodePose is the pose of the nodes' own transforms, which a viewer shows
	// without a clip. In many files it is a frame of some clip.
	NodePose = -2
)

// poses are the local transforms of a file's nodes in the poses that need no clip.
type poses struct {
	own   []transform // as the nodes hold them: in a clip, what has no channel stays so
	rest  []transform // in the bind pose
	posed []bool      // whether the two differ
	torn  []int       // joints about whose bind pose skins disagree
	noise float64     // metres by which the two may differ and be taken for one
}

// nodePose is the node pose as a clip: one without channels.
var nodePose = &clip{}

// local is a node's transform in a clip; a nil clip is the rest pose.
func (p *poses) local(c *clip, node int, t float64) transform {
	if c == nil {
		return p.rest[node]
	}
	return p.own[node].at(c.nodes[node], t)
}

// world is every node's world matrix in a clip; a nil clip is the rest pose.
func (p *poses) world(f *File, order []int, c *clip, t float64) []mgl64.Mat4 {
	world := make([]mgl64.Mat4, len(p.own))
	for _, node := range order {
		world[node] = p.local(c, node, t).mat4()
		if parent := f.parent[node]; parent >= 0 {
			world[node] = world[parent].Mul4(world[node])
		}
	}
	return world
}

// anyPosed reports whether any node on the ways stands otherwise than at rest.
func (p *poses) anyPosed(ways ...descent) bool {
	for _, way := range ways {
		for _, node := range way {
			if p.posed[node] {
				return true
			}
		}
	}
	return false
}

// nodePoses are the poses of a file with the nodes' own for rest.
func (f *File) nodePoses() *poses {
	p := &poses{posed: make([]bool, len(f.Doc.Nodes))}
	for _, n := range f.Doc.Nodes {
		p.own = append(p.own, ownTransform(n))
	}
	p.rest = p.own
	return p
}

// settled keeps a file's poses once they are worked out.
type settled struct {
	once  sync.Once
	poses *poses
	err   error
}

// poses works out the file's rest pose, once. The error names the accessor at fault.
func (f *File) poses() (*poses, error) {
	f.settled.once.Do(func() { f.settled.poses, f.settled.err = f.bindPoses() })
	return f.settled.poses, f.settled.err
}
