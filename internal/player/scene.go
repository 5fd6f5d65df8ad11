package player

import (
	"fmt"
	"io/fs"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Scene is a character read from a file. It is never changed by its methods.
type Scene struct {
	doc    *document
	parent []int
	order  []int // parents before children
	rest   []transform
	clips  []clip
	parts  []part
}

// transform is a node's local one: its T, R, S, or the matrix it came with.
type transform struct {
	translation, scale []float64
	rotation           []float64
	matrix             *mgl64.Mat4
}

type clip struct {
	name   string
	tracks []track
}

// part is one primitive of one skinned node.
type part struct {
	node      int
	positions [][]float64
	targets   [][][]float64 // morph target, vertex, displacement
	morph     []float64     // default morph weights
	joints    []int         // nodes
	inverse   []mgl64.Mat4
	influence [][]Influence
}

// Influence is one entry of a vertex's skin: a joint's name and its weight.
type Influence struct {
	Joint  string
	Weight float64

	index int // in the skin
}

// Load reads a .glb or a .gltf whose buffers are embedded.
func Load(data []byte) (*Scene, error) { return LoadFrom(data, nil) }

// LoadFrom is Load for a file whose buffers lie beside it, in files.
func LoadFrom(data []byte, files fs.FS) (*Scene, error) {
	d, err := parse(data, files)
	if err != nil {
		return nil, fmt.Errorf("player: %w", err)
	}
	s := &Scene{doc: d}
	for _, step := range []func() error{s.readNodes, s.readSkins, s.readClips} {
		if err := step(); err != nil {
			return nil, fmt.Errorf("player: %w", err)
		}
	}
	return s, nil
}

func (s *Scene) readNodes() error {
	s.parent = make([]int, len(s.doc.Nodes))
	for i := range s.parent {
		s.parent[i] = -1
	}
	for i, n := range s.doc.Nodes {
		for _, child := range n.Children {
			if child < 0 || child >= len(s.parent) || s.parent[child] >= 0 {
				return fmt.Errorf("node %d: child %d", i, child)
			}
			s.parent[child] = i
		}
		local := transform{translation: []float64{0, 0, 0}, rotation: []float64{0, 0, 0, 1}, scale: []float64{1, 1, 1}}
		if n.Translation != nil {
			local.translation = n.Translation[:]
		}
		if n.Rotation != nil {
			local.rotation = n.Rotation[:]
		}
		if n.Scale != nil {
			local.scale = n.Scale[:]
		}
		if n.Matrix != nil {
			m := mgl64.Mat4(*n.Matrix)
			local.matrix = &m
		}
		s.rest = append(s.rest, local)
	}
	for i, p := range s.parent {
		if p < 0 {
			s.order = append(s.order, i)
		}
	}
	for i := 0; i < len(s.order); i++ {
		s.order = append(s.order, s.doc.Nodes[s.order[i]].Children...)
	}
	if len(s.order) != len(s.parent) {
		return fmt.Errorf("the nodes are no forest: %d of %d hang from a root", len(s.order), len(s.parent))
	}
	return nil
}

func (s *Scene) readClips() error {
	for i, a := range s.doc.Animations {
		c := clip{name: a.Name}
		if c.name == "" {
			c.name = fmt.Sprintf("#%d", i)
		}
		for j, channel := range a.Channels {
			if channel.Target.Node == nil {
				continue
			}
			tr, err := s.readTrack(a, channel.Sampler, *channel.Target.Node, channel.Target.Path)
			if err != nil {
				return fmt.Errorf("animation %d: channel %d: %w", i, j, err)
			}
			c.tracks = append(c.tracks, tr)
		}
		s.clips = append(s.clips, c)
	}
	return nil
}

func (s *Scene) readTrack(a animation, sampler, node int, path string) (track, error) {
	if sampler < 0 || sampler >= len(a.Samplers) || node < 0 || node >= len(s.doc.Nodes) {
		return track{}, fmt.Errorf("sampler %d, node %d", sampler, node)
	}
	width := map[string]int{"translation": 3, "rotation": 4, "scale": 3}[path]
	if mesh := s.doc.Nodes[node].Mesh; path == "weights" && mesh != nil {
		width = len(s.doc.Meshes[*mesh].Primitives[0].Targets)
	}
	if width == 0 || path != "weights" && s.rest[node].matrix != nil {
		return track{}, fmt.Errorf("path %q of node %d", path, node)
	}
	times, err := s.doc.rows(a.Samplers[sampler].Input)
	if err != nil {
		return track{}, err
	}
	values, err := s.doc.rows(a.Samplers[sampler].Output)
	if err != nil {
		return track{}, err
	}
	return newTrack(node, path, a.Samplers[sampler].Interpolation, times, values, width)
}

// Clips lists the animations in file order; one without a name is "#" and its
// index.
func (s *Scene) Clips() []string {
	var names []string
	for _, c := range s.clips {
		names = append(names, c.name)
	}
	return names
}

func (s *Scene) clip(name string) clip {
	for _, c := range s.clips {
		if c.name == name {
			return c
		}
	}
	panic(fmt.Sprintf("player: no clip %q", name))
}

// Duration is the time of a clip's last key, in seconds. It panics when there
// is no such clip, as Pose and Times do.
func (s *Scene) Duration(clip string) float64 {
	last := 0.0
	for _, tr := range s.clip(clip).tracks {
		last = math.Max(last, tr.times[len(tr.times)-1])
	}
	return last
}

// Keys gives the key times of the track that moves a property ("rotation" …)
// of a node in a clip; nil when there is none.
func (s *Scene) Keys(clip, node, path string) []float64 {
	for _, tr := range s.clip(clip).tracks {
		if tr.path == path && s.doc.Nodes[tr.node].Name == node {
			return append([]float64(nil), tr.times...)
		}
	}
	return nil
}

// Influences gives the skin of every vertex, in the order of Pose.Vertices.
// Entries of weight zero are left out.
func (s *Scene) Influences() [][]Influence {
	var all [][]Influence
	for _, p := range s.parts {
		all = append(all, p.influence...)
	}
	return all
}

// Height is the extent along +Y of the skinned vertices at rest.
func (s *Scene) Height() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range s.Pose("", 0).Vertices() {
		low, high = math.Min(low, v[1]), math.Max(high, v[1])
	}
	return math.Max(high-low, 0)
}
