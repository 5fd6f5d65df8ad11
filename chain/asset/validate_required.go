package asset

import (
	"fmt"
	"slices"
	"strings"

	"github.com/qmuntal/gltf"
)

// requiredProperties is a second, narrow view of the JSON. The typed document
// cannot tell a missing index from 0, and takes component types, modes,
// interpolations and paths it does not know for the first of each.
type requiredProperties struct {
	Asset       *struct{ Version, MinVersion *string }
	Buffers     []struct{ ByteLength *int }
	BufferViews []struct{ Buffer, ByteLength *int }
	Accessors   []struct {
		ComponentType, Count *int
		Type                 *string
		Sparse               *struct {
			Count   *int
			Indices *struct{ BufferView, ComponentType *int }
			Values  *struct{ BufferView *int }
		}
	}
	Meshes []struct {
		Primitives []struct {
			Attributes *map[string]int
			Mode       *int
		}
	}
	Skins      []struct{ Joints *[]int }
	Animations []struct {
		Channels []struct {
			Sampler *int
			Target  *struct{ Path *string }
		}
		Samplers []struct {
			Input, Output *int
			Interpolation *string
		}
	}
}

// componentTypes of glTF 2.0, section 3.6.2.2.
var componentTypes = []int{5120, 5121, 5122, 5123, 5125, 5126}

func (r *requiredProperties) check() error {
	if err := r.checkVersion(); err != nil {
		return err
	}
	missing := func(place, property string) error { return fmt.Errorf("%s has no %s", place, property) }
	for i, b := range r.Buffers {
		if b.ByteLength == nil {
			return missing(fmt.Sprintf("buffer %d", i), "byteLength")
		}
	}
	for i, v := range r.BufferViews {
		switch place := fmt.Sprintf("buffer view %d", i); {
		case v.Buffer == nil:
			return missing(place, "buffer")
		case v.ByteLength == nil:
			return missing(place, "byteLength")
		}
	}
	for i := range r.Accessors {
		if err := r.checkAccessor(i); err != nil {
			return err
		}
	}
	for i, m := range r.Meshes {
		for j, p := range m.Primitives {
			place := fmt.Sprintf("mesh %d: primitive %d", i, j)
			if p.Attributes == nil {
				return missing(place, "attributes")
			}
			if p.Mode != nil && (*p.Mode < 0 || *p.Mode > 6) {
				return fmt.Errorf("%s has mode %d, expected 0 to 6", place, *p.Mode)
			}
		}
	}
	for i, s := range r.Skins {
		if s.Joints == nil {
			return missing(fmt.Sprintf("skin %d", i), "joints")
		}
	}
	return r.checkAnimations(missing)
}

func (r *requiredProperties) checkVersion() error {
	if r.Asset == nil || r.Asset.Version == nil {
		return fmt.Errorf("has no asset.version, expected a glTF 2.0 file")
	}
	if v := *r.Asset.Version; v != "2" && !strings.HasPrefix(v, "2.") {
		return fmt.Errorf("asset.version is %q, expected 2.0", v)
	}
	if v := r.Asset.MinVersion; v != nil && *v != "2.0" && *v != "2" {
		return fmt.Errorf("asset.minVersion is %q, expected 2.0 at most", *v)
	}
	return nil
}

func (r *requiredProperties) checkAccessor(i int) error {
	a := r.Accessors[i]
	var absent string
	switch {
	case a.ComponentType == nil:
		absent = "componentType"
	case a.Count == nil:
		absent = "count"
	case a.Type == nil:
		absent = "type"
	case a.Sparse == nil:
	case a.Sparse.Count == nil:
		absent = "sparse.count"
	case a.Sparse.Indices == nil || a.Sparse.Indices.BufferView == nil:
		absent = "sparse.indices.bufferView"
	case a.Sparse.Indices.ComponentType == nil:
		absent = "sparse.indices.componentType"
	case a.Sparse.Values == nil || a.Sparse.Values.BufferView == nil:
		absent = "sparse.values.bufferView"
	}
	if absent != "" {
		return fmt.Errorf("accessor %d has no %s", i, absent)
	}
	if !slices.Contains(componentTypes, *a.ComponentType) {
		return fmt.Errorf("accessor %d has componentType %d, expected one of %v", i, *a.ComponentType, componentTypes)
	}
	if a.Sparse != nil {
		if kind := *a.Sparse.Indices.ComponentType; kind != 5121 && kind != 5123 && kind != 5125 {
			return fmt.Errorf("accessor %d: sparse.indices.componentType is %d, expected 5121, 5123 or 5125", i, kind)
		}
	}
	return nil
}

func (r *requiredProperties) checkAnimations(missing func(place, property string) error) error {
	for i, a := range r.Animations {
		for j, s := range a.Samplers {
			place := fmt.Sprintf("animation %d: sampler %d", i, j)
			switch {
			case s.Input == nil:
				return missing(place, "input")
			case s.Output == nil:
				return missing(place, "output")
			case s.Interpolation != nil && !slices.Contains([]string{"LINEAR", "STEP", "CUBICSPLINE"}, *s.Interpolation):
				return fmt.Errorf("%s has interpolation %s, expected LINEAR, STEP or CUBICSPLINE", place, shorten(fmt.Sprintf("%q", *s.Interpolation)))
			}
		}
		for j, c := range a.Channels {
			place := fmt.Sprintf("animation %d: channel %d", i, j)
			switch {
			case c.Sampler == nil:
				return missing(place, "sampler")
			case c.Target == nil || c.Target.Path == nil:
				return missing(place, "target.path")
			}
		}
	}
	return nil
}

// hideForeignPaths takes the node from channels whose path the typed view would
// mistake for a translation: an extension drives something there, and readers
// here pass over channels without a node.
func (r *requiredProperties) hideForeignPaths(doc *gltf.Document) {
	for i, a := range r.Animations {
		for j, c := range a.Channels {
			if !slices.Contains([]string{"translation", "rotation", "scale", "weights"}, *c.Target.Path) {
				doc.Animations[i].Channels[j].Target.Node = nil
			}
		}
	}
}
