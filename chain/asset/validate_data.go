package asset

import (
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

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
	check := func(kind string, index int, extensions gltf.Extensions) error {
		for name := range extensions {
			if refuse(name) {
				return fmt.Errorf("%s %d needs the extension %s, which is not read here; expected plain accessors", kind, index, shorten(printable(name)))
			}
		}
		return nil
	}
	var err error
	for i, b := range f.Doc.Buffers {
		err = errors.Join(err, check("buffer", i, b.Extensions))
	}
	for i, v := range f.Doc.BufferViews {
		err = errors.Join(err, check("buffer view", i, v.Extensions))
	}
	for i, a := range f.Doc.Accessors {
		err = errors.Join(err, check("accessor", i, a.Extensions))
	}
	for i, m := range f.Doc.Meshes {
		for _, p := range m.Primitives {
			err = errors.Join(err, check("mesh", i, p.Extensions))
		}
	}
	for i, s := range f.Doc.Skins {
		err = errors.Join(err, check("skin", i, s.Extensions))
	}
	return first(err)
}

// first is the first of joined errors: one cause is one line.
func first(err error) error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return first(joined.Unwrap()[0])
	}
	return err
}

// loadBuffers reads every buffer. bin is the BIN chunk.
func (f *File) loadBuffers(bin []byte) error {
	external := map[string][]byte{}
	for i, b := range f.Doc.Buffers {
		if b.ByteLength < 1 {
			return fmt.Errorf("buffer %d: byteLength is %d, expected 1 or more", i, b.ByteLength)
		}
		data, err := f.buffer(i, bin, external)
		if err != nil {
			return fmt.Errorf("buffer %d: %w", i, err)
		}
		if len(data) < b.ByteLength {
			return fmt.Errorf("buffer %d: byteLength is %d, but there are only %d bytes", i, b.ByteLength, len(data))
		}
		b.Data = data[:b.ByteLength:b.ByteLength]
	}
	return nil
}

func (f *File) buffer(i int, bin []byte, external map[string][]byte) ([]byte, error) {
	uri := f.Doc.Buffers[i].URI
	switch {
	case uri == "" && i == 0 && bin != nil:
		return bin, nil
	case uri == "":
		return nil, errors.New("has no uri, and there is no BIN chunk for it")
	case isDataURI(uri):
		return decodeDataURI(uri)
	}
	name, err := localPath(uri)
	if err != nil {
		return nil, err
	}
	if data, ok := external[name]; ok {
		return data, nil
	}
	if f.dir == nil {
		return nil, fmt.Errorf("refers to the file %q, expected the data within: there is no folder to look in", name)
	}
	data, err := readRegular(f.dir, name)
	if err != nil {
		return nil, errors.New(printable(err.Error()))
	}
	external[name] = data
	f.size += len(data)
	return data, nil
}

// readRegular reads a file that is a plain one: not a device without end.
func readRegular(dir fs.FS, name string) ([]byte, error) {
	file, err := dir.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a regular file", name)
	}
	return io.ReadAll(io.LimitReader(file, info.Size()))
}

func isDataURI(uri string) bool { return len(uri) >= 5 && strings.EqualFold(uri[:5], "data:") }

// decodeDataURI decodes a data URI (RFC 2397) of any media type.
func decodeDataURI(uri string) ([]byte, error) {
	head, body, ok := strings.Cut(uri[len("data:"):], ",")
	if !ok {
		return nil, errors.New("its data URI has no comma")
	}
	if !strings.HasSuffix(strings.ToLower(head), ";base64") {
		text, err := url.PathUnescape(body)
		if err != nil {
			return nil, errors.New("its data URI is not percent-encoded as it should be")
		}
		return []byte(text), nil
	}
	if strings.Contains(body, "%") {
		if text, err := url.PathUnescape(body); err == nil {
			body = text
		}
	}
	encoding := base64.StdEncoding
	if len(body)%4 != 0 {
		encoding = base64.RawStdEncoding
	}
	data, err := encoding.DecodeString(body)
	if err != nil {
		return nil, fmt.Errorf("its data URI is not base64: %w", err)
	}
	return data, nil
}

// localPath is the path of a relative URI, below the folder of the file.
func localPath(uri string) (string, error) {
	refused := fmt.Errorf("uri is %s, expected a data URI or the relative path of a file beside this one", shorten(fmt.Sprintf("%q", uri)))
	parsed, err := url.Parse(uri)
	if err != nil {
		// Writers leave spaces and percent signs as they are, too.
		parsed = &url.URL{Path: uri}
	}
	if parsed.Scheme != "" || parsed.Host != "" || parsed.Path == "" {
		return "", refused
	}
	name := path.Clean(strings.ReplaceAll(parsed.Path, `\`, "/"))
	if !fs.ValidPath(name) || name == "." || strings.Contains(name, ":") {
		return "", refused
	}
	return name, nil
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
