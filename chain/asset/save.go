package asset

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/internal/wholefile"
)

// Save writes the file to path whole, or not at all: as a binary .glb, or as a
// .gltf with its buffers inside. Files that it refers to by relative address
// (images, further buffers) are taken in where path is in another folder than
// the source was, since the address would lead nowhere from there; one that
// cannot be read keeps its address.
func (f *File) Save(path string) error {
	data, err := f.Encode(strings.EqualFold(filepath.Ext(path), ".glb"), sameFolder(f.Name, path))
	if err != nil {
		return err
	}
	return wholefile.Write(path, data)
}

func sameFolder(a, b string) bool {
	x, errX := filepath.Abs(filepath.Dir(a))
	y, errY := filepath.Abs(filepath.Dir(b))
	return errX == nil && errY == nil && x == y
}

// Encode returns the bytes of a .glb (asBinary) or of a .gltf. Relative
// addresses stay as they are where beside says that the result will stand in
// the source's folder.
func (f *File) Encode(asBinary, beside bool) ([]byte, error) {
	root := maps.Clone(f.root)
	var bin []byte
	buffers, err := objects(root["buffers"])
	if err != nil {
		return nil, fmt.Errorf("%s: buffers: %w", f.Name, err)
	}
	for i, buffer := range buffers {
		data := f.Doc.Buffers[i].Data
		switch {
		case i == 0 && asBinary:
			bin = data
			delete(buffer, "uri")
			buffer.set("byteLength", len(data))
		case i == 0 || !isRelative(buffer) || !beside:
			buffer.set("uri", dataURI("application/octet-stream", data))
			buffer.set("byteLength", len(data))
		}
	}
	if buffers != nil {
		root["buffers"] = encode(buffers)
	}
	if err := f.takeInImages(root, beside); err != nil {
		return nil, err
	}
	if asBinary {
		return encodeGLB(encode(root), bin, f.extra), nil
	}
	return encode(root), nil
}

// takeInImages replaces relative addresses of images by their content.
func (f *File) takeInImages(root map[string]json.RawMessage, beside bool) error {
	images, err := objects(root["images"])
	if err != nil {
		return fmt.Errorf("%s: images: %w", f.Name, err)
	}
	if beside || f.dir == nil || images == nil {
		return nil
	}
	for i, image := range images {
		if !isRelative(image) {
			continue
		}
		path, err := url.PathUnescape(f.Doc.Images[i].URI)
		if err != nil || !fs.ValidPath(path) {
			continue
		}
		data, err := fs.ReadFile(f.dir, path)
		if err != nil {
			continue
		}
		if mediaType := http.DetectContentType(data); strings.HasPrefix(mediaType, "image/") {
			image.set("uri", dataURI(mediaType, data))
		}
	}
	root["images"] = encode(images)
	return nil
}

func objects(raw json.RawMessage) ([]object, error) {
	if len(raw) == 0 {
		return nil, nil
	}
	var out []object
	return out, json.Unmarshal(raw, &out)
}

// isRelative reports whether an object's uri leads to another file.
func isRelative(o object) bool {
	var uri string
	if json.Unmarshal(o["uri"], &uri) != nil || uri == "" {
		return false
	}
	u, err := url.Parse(uri)
	return err != nil || u.Scheme == ""
}

func dataURI(mediaType string, data []byte) string {
	return "data:" + mediaType + ";base64," + base64.StdEncoding.EncodeToString(data)
}
