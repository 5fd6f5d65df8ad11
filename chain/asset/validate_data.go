package asset

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/pronate/pronate/internal/printable"
	"github.com/qmuntal/gltf"
)

// checkExtensions refuses files whose accessors cannot be read without an
// extension: a required one that sits on buffers, views, accessors, primitives
// or skins, save materials' ones, and compressed meshes in any case: a viewer
// that knows the compression would not see what is changed beside it.
func (f *File) checkExtensions() error {
	refuse := func(name string) bool {
		switch name {
		case "KHR_draco_mesh_compression", "EXT_meshopt_compression", "KHR_meshopt_compression":
			return true
		}
		return slices.Contains(f.Doc.ExtensionsRequired, name) && !strings.HasPrefix(name, "KHR_materials_")
	}
	var refused error
	check := func(kind string, index int, extensions gltf.Extensions) {
		for _, name := range slices.Sorted(maps.Keys(extensions)) {
			if refused == nil && refuse(name) {
				refused = fmt.Errorf("%s %d needs the extension %s, which is not read here; expected plain accessors", kind, index, shorten(printable.Text(name)))
			}
		}
	}
	for i, b := range f.Doc.Buffers {
		check("buffer", i, b.Extensions)
	}
	for i, v := range f.Doc.BufferViews {
		check("buffer view", i, v.Extensions)
	}
	for i, a := range f.Doc.Accessors {
		check("accessor", i, a.Extensions)
	}
	for i, m := range f.Doc.Meshes {
		for _, p := range m.Primitives {
			check("mesh", i, p.Extensions)
		}
	}
	for i, s := range f.Doc.Skins {
		check("skin", i, s.Extensions)
	}
	return refused
}

// checkViews sees to it that every buffer view lies inside its buffer.
func (f *File) checkViews() error {
	for i, v := range f.Doc.BufferViews {
		if v.Buffer < 0 || v.Buffer >= len(f.Doc.Buffers) {
			return fmt.Errorf("buffer view %d: buffer is %d, expected one of %d", i, v.Buffer, len(f.Doc.Buffers))
		}
		have := f.Doc.Buffers[v.Buffer].ByteLength
		if v.ByteOffset < 0 || v.ByteLength < 1 || v.ByteOffset > have || v.ByteLength > have-v.ByteOffset {
			return fmt.Errorf("buffer view %d: byteOffset %d and byteLength %d do not lie in buffer %d of %d bytes", i, v.ByteOffset, v.ByteLength, v.Buffer, have)
		}
		// glTF 2.0, section 5.11.4.
		if s := v.ByteStride; s != 0 && (s < 4 || s > 252 || s%4 != 0) {
			return fmt.Errorf("buffer view %d: byteStride is %d, expected a multiple of 4 from 4 to 252", i, s)
		}
	}
	for i, image := range f.Doc.Images {
		if err := f.inRange(image.BufferView, len(f.Doc.BufferViews), "bufferView"); err != nil {
			return fmt.Errorf("image %d: %w", i, err)
		}
	}
	return nil
}

// checkAccessors sees to it that every accessor's elements lie inside its view.
func (f *File) checkAccessors() error {
	for i, a := range f.Doc.Accessors {
		if a.Count < 0 || a.ByteOffset < 0 {
			return fmt.Errorf("accessor %d: count %d, byteOffset %d, expected 0 or more", i, a.Count, a.ByteOffset)
		}
		if a.BufferView != nil {
			if err := f.fits(*a.BufferView, a.ByteOffset, a.Count, elementSize(a)); err != nil {
				return fmt.Errorf("accessor %d: %w", i, err)
			}
		}
		if a.Sparse != nil {
			if err := f.checkSparse(a); err != nil {
				return fmt.Errorf("accessor %d: sparse: %w", i, err)
			}
		}
	}
	return nil
}

func (f *File) checkSparse(a *gltf.Accessor) error {
	s := a.Sparse
	if s.Count < 1 || s.Count > a.Count || s.Indices.ByteOffset < 0 || s.Values.ByteOffset < 0 {
		return fmt.Errorf("count %d of %d, byteOffsets %d and %d, expected 1 or more elements that exist", s.Count, a.Count, s.Indices.ByteOffset, s.Values.ByteOffset)
	}
	if err := f.fits(s.Indices.BufferView, s.Indices.ByteOffset, s.Count, componentSize(s.Indices.ComponentType)); err != nil {
		return fmt.Errorf("indices: %w", err)
	}
	if err := f.fits(s.Values.BufferView, s.Values.ByteOffset, s.Count, elementSize(a)); err != nil {
		return fmt.Errorf("values: %w", err)
	}
	last := -1
	for i, at := range f.sparseIndices(s) {
		if at <= last || at >= a.Count {
			return fmt.Errorf("index %d is %d, expected more than %d and under %d", i, at, last, a.Count)
		}
		last = at
	}
	return nil
}

// fits reports whether count elements of size bytes fit into a view.
func (f *File) fits(view, offset, count, size int) error {
	if view < 0 || view >= len(f.Doc.BufferViews) {
		return fmt.Errorf("buffer view is %d, expected one of %d", view, len(f.Doc.BufferViews))
	}
	v := f.Doc.BufferViews[view]
	stride := v.ByteStride
	if stride == 0 {
		stride = size
	}
	if stride < size {
		return fmt.Errorf("an element of %d bytes does not fit byteStride %d of buffer view %d", size, stride, view)
	}
	if offset > v.ByteLength {
		return fmt.Errorf("byteOffset %d lies beyond buffer view %d of %d bytes", offset, view, v.ByteLength)
	}
	if count == 0 {
		return nil
	}
	left := v.ByteLength - offset
	if left < size || count-1 > (left-size)/stride {
		return fmt.Errorf("count %d needs %s, buffer view %d holds %d bytes from byteOffset %d", count, bytesName(count, stride), view, left, offset)
	}
	return nil
}

// bytesName words a product that may be too large for an int.
func bytesName(count, stride int) string {
	n := float64(count) * float64(stride)
	for _, unit := range []string{"bytes", "kB", "MB", "GB", "TB"} {
		if n < 1e5 {
			return fmt.Sprintf("%.0f %s", n, unit)
		}
		n /= 1000
	}
	return fmt.Sprintf("%.3g PB", n)
}

// inRange checks an optional index.
func (f *File) inRange(index *int, n int, property string) error {
	if index != nil && (*index < 0 || *index >= n) {
		return fmt.Errorf("%s is %d, expected one of %d", property, *index, n)
	}
	return nil
}
