package asset

import (
	"slices"
	"strings"

	"github.com/qmuntal/gltf"
)

// slots counts who uses which accessor and buffer view, so that data which a
// split replaces does not stay behind as dead weight.
type slots struct {
	file                     *File
	accessorUsers, viewUsers []int
	freeAccessors, freeViews []int
	released                 bool
	frozen                   bool // something unknown may use accessors or views: free nothing
}

func newSlots(f *File) slots {
	s := slots{
		file:          f,
		accessorUsers: make([]int, len(f.Doc.Accessors)),
		viewUsers:     make([]int, len(f.Doc.BufferViews)),
		frozen:        slices.ContainsFunc(f.Doc.ExtensionsUsed, mayPointAtData),
	}
	for _, mesh := range f.Doc.Meshes {
		for _, primitive := range mesh.Primitives {
			for _, attributes := range append([]gltf.PrimitiveAttributes{primitive.Attributes}, primitive.Targets...) {
				for _, accessor := range attributes {
					s.accessorUsers[accessor]++
				}
			}
			s.use(s.accessorUsers, primitive.Indices)
		}
	}
	for _, skin := range f.Doc.Skins {
		s.use(s.accessorUsers, skin.InverseBindMatrices)
	}
	for _, animation := range f.Doc.Animations {
		for _, sampler := range animation.Samplers {
			s.accessorUsers[sampler.Input]++
			s.accessorUsers[sampler.Output]++
		}
	}
	for _, accessor := range f.Doc.Accessors {
		s.use(s.viewUsers, accessor.BufferView)
		if accessor.Sparse != nil {
			s.viewUsers[accessor.Sparse.Indices.BufferView]++
			s.viewUsers[accessor.Sparse.Values.BufferView]++
		}
	}
	for _, image := range f.Doc.Images {
		s.use(s.viewUsers, image.BufferView)
	}
	return s
}

// mayPointAtData reports whether an extension may hold indices of accessors or
// buffer views. Of the ones that Khronos ratified, those about materials,
// textures' placement, lights and quantised attributes hold none.
func mayPointAtData(extension string) bool {
	return !strings.HasPrefix(extension, "KHR_materials_") &&
		!slices.Contains([]string{"KHR_texture_transform", "KHR_lights_punctual", "KHR_mesh_quantization"}, extension)
}

func (s *slots) use(users []int, index *int) {
	if index != nil {
		users[*index]++
	}
}

// release takes one user from an accessor of the source file. Without users it
// and its buffer views become free.
func (s *slots) release(accessor int) {
	if s.frozen {
		return
	}
	if s.accessorUsers[accessor]--; s.accessorUsers[accessor] > 0 {
		return
	}
	s.freeAccessors = append(s.freeAccessors, accessor)
	a := s.file.Doc.Accessors[accessor]
	if a.BufferView != nil {
		s.releaseView(*a.BufferView)
	}
	if a.Sparse != nil {
		s.releaseView(a.Sparse.Indices.BufferView)
		s.releaseView(a.Sparse.Values.BufferView)
	}
}

func (s *slots) releaseView(view int) {
	if s.viewUsers[view]--; s.viewUsers[view] == 0 {
		s.freeViews = append(s.freeViews, view)
		s.released = true
	}
}
