package asset

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/internal/wholefile"
)

// Save writes the file to path whole, or not at all: as a binary .glb, or as a
// .gltf with its buffers inside. Files that it refers to by relative address
// (images, further buffers) stay outside where [Open] read the source from the
// folder of path. From any other folder, or for a source that [Decode] read,
// the address may lead nowhere, so they are taken in; an image that cannot be
// read keeps its address.
func (f *File) Save(path string) error {
	data, err := f.Encode(strings.EqualFold(filepath.Ext(path), ".glb"), f.isFrom(filepath.Dir(path)))
	if err != nil {
		return err
	}
	return wholefile.Write(path, data)
}

// isFrom reports whether the source was opened in a folder.
func (f *File) isFrom(folder string) bool {
	path, err := filepath.Abs(folder)
	return err == nil && f.folder != "" && path == f.folder
}

// Encode returns the bytes of a .glb (asBinary) or of a .gltf: those that were read,
// where they are of that kind and refer to nothing that has to be taken in. Relative
// addresses stay as they are where beside says that the result will stand in
// the source's folder.
func (f *File) Encode(asBinary, beside bool) ([]byte, error) {
	p := packer{file: f, asBinary: asBinary, beside: beside, root: maps.Clone(f.root)}
	for _, part := range []struct {
		name string
		into *[]object
	}{{"buffers", &p.buffers}, {"bufferViews", &p.views}, {"images", &p.images}} {
		if raw := p.root[part.name]; len(raw) > 0 {
			if err := json.Unmarshal(raw, part.into); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", f.Name, part.name, err)
			}
		}
	}
	before := p.references()
	p.packBuffers()
	p.packImages()
	if asBinary == bytes.HasPrefix(f.source, []byte("glTF")) && bytes.Equal(before, p.references()) {
		return bytes.Clone(f.source), nil // with every space and the order of its keys
	}
	for name, objects := range map[string][]object{"buffers": p.buffers, "bufferViews": p.views, "images": p.images} {
		if objects != nil {
			p.root[name] = encode(objects)
		}
	}
	if asBinary {
		data, err := encodeGLB(encode(p.root), nonEmpty(p.bin), f.extra)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		return data, nil
	}
	return encode(p.root), nil
}

// references is how the file refers to its data now.
func (p *packer) references() []byte { return encode([][]object{p.buffers, p.views, p.images}) }

// nonEmpty is the data of a chunk, which there is none of where there is no data.
func nonEmpty(bin []byte) [][]byte {
	if len(bin) == 0 {
		return nil
	}
	return [][]byte{bin}
}
