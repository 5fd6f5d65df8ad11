package asset

import (
	"fmt"
	"strings"

	"github.com/pronate/pronate/internal/printable"
	"github.com/qmuntal/gltf"
)

func (f *File) checkMeshes() error {
	accessors := len(f.Doc.Accessors)
	f.holdsWeights = map[int]bool{}
	for i, m := range f.Doc.Meshes {
		for j, p := range m.Primitives {
			fail := func(what string, index int) error {
				return fmt.Errorf("mesh %d: primitive %d: %s is accessor %d, expected one of %d", i, j, shorten(printable.Text(what)), index, accessors)
			}
			for _, attributes := range append([]gltf.PrimitiveAttributes{p.Attributes}, p.Targets...) {
				for name, accessor := range attributes {
					if accessor < 0 || accessor >= accessors {
						return fail(name, accessor)
					}
					if strings.HasPrefix(name, "WEIGHTS_") {
						f.holdsWeights[accessor] = true
					}
				}
			}
			if p.Indices != nil && (*p.Indices < 0 || *p.Indices >= accessors) {
				return fail("indices", *p.Indices)
			}
		}
	}
	return nil
}

func (f *File) checkSkins() error {
	for i, s := range f.Doc.Skins {
		if err := f.inRange(s.InverseBindMatrices, len(f.Doc.Accessors), "inverseBindMatrices"); err != nil {
			return fmt.Errorf("skin %d: %w", i, err)
		}
		if err := f.inRange(s.Skeleton, len(f.Doc.Nodes), "skeleton"); err != nil {
			return fmt.Errorf("skin %d: %w", i, err)
		}
		if len(s.Joints) == 0 {
			return fmt.Errorf("skin %d has no joints, expected one or more", i)
		}
		seen := make(map[int]bool, len(s.Joints))
		for j, joint := range s.Joints {
			if joint < 0 || joint >= len(f.Doc.Nodes) {
				return fmt.Errorf("skin %d: joints[%d] is node %d, expected one of %d", i, j, joint, len(f.Doc.Nodes))
			}
			if seen[joint] {
				return fmt.Errorf("skin %d: joints[%d] is node %d again, expected each joint once", i, j, joint)
			}
			seen[joint] = true
		}
	}
	return nil
}

// Most skinned vertices for each byte of input, and beyond that. Each takes 20
// bytes or more of a file, but nodes may show one mesh, and primitives use one
// list of vertices, many times over; whoever poses the file pays for each.
const (
	verticesPerByte = 4
	verticesBeyond  = 1 << 20
)

// checkSkinnedVertices bounds what skinning a file can cost.
func (f *File) checkSkinnedVertices() error {
	left := verticesPerByte*int64(f.size) + verticesBeyond
	for i, n := range f.Doc.Nodes {
		if n.Mesh == nil || n.Skin == nil {
			continue
		}
		for _, p := range f.Doc.Meshes[*n.Mesh].Primitives {
			position, ok := p.Attributes[gltf.POSITION]
			if !ok {
				continue
			}
			if left -= min(left, int64(f.Doc.Accessors[position].Count)); left == 0 {
				return fmt.Errorf("node %d: with it there are more skinned vertices than a file of %d bytes can be worth", i, f.size)
			}
		}
	}
	return nil
}

func (f *File) checkAnimations() error {
	for i, a := range f.Doc.Animations {
		for j, s := range a.Samplers {
			for _, accessor := range []int{s.Input, s.Output} {
				if accessor < 0 || accessor >= len(f.Doc.Accessors) {
					return fmt.Errorf("animation %d: sampler %d: accessor is %d, expected one of %d", i, j, accessor, len(f.Doc.Accessors))
				}
			}
		}
		for j, c := range a.Channels {
			if c.Sampler < 0 || c.Sampler >= len(a.Samplers) {
				return fmt.Errorf("animation %d: channel %d: sampler is %d, expected one of %d", i, j, c.Sampler, len(a.Samplers))
			}
			if err := f.inRange(c.Target.Node, len(f.Doc.Nodes), "node"); err != nil {
				return fmt.Errorf("animation %d: channel %d: %w", i, j, err)
			}
			// glTF 2.0, section 3.5.3: what a matrix places no channel moves.
			if node := c.Target.Node; node != nil && c.Target.Path != gltf.TRSWeights && f.Doc.Nodes[*node].Matrix != gltf.DefaultMatrix {
				return fmt.Errorf("animation %d: channel %d moves node %d, which has a matrix; expected a translation, rotation and scale", i, j, *node)
			}
		}
	}
	return nil
}

func (f *File) checkScenes() error {
	if err := f.inRange(f.Doc.Scene, len(f.Doc.Scenes), "scene"); err != nil {
		return err
	}
	for i, s := range f.Doc.Scenes {
		for _, node := range s.Nodes {
			if node < 0 || node >= len(f.Doc.Nodes) {
				return fmt.Errorf("scene %d: node is %d, expected one of %d", i, node, len(f.Doc.Nodes))
			}
		}
	}
	return nil
}
