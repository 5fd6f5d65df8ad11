package asset

import (
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"net/url"
)

// packer puts the data that a file refers to where its new form wants it: into
// the binary chunk of a .glb, into data URIs of a .gltf.
type packer struct {
	file             *File
	asBinary, beside bool
	root             map[string]json.RawMessage
	buffers, views   []object
	images           []object
	bin              []byte
}

// packBuffers keeps the first buffer as the binary chunk, or as a data URI.
// Others stay where they were, if the address still leads there and a .glb was
// one before; otherwise a .glb takes them into its chunk, since data URIs are
// not for it, and a .gltf as data URIs.
func (p *packer) packBuffers() {
	var kept []object
	moved := map[int]int{} // buffer -> place in the binary chunk
	renumbered := map[int]int{}
	for i, buffer := range p.buffers {
		data := p.file.Doc.Buffers[i].Data
		stays := i > 0 && (p.beside || !isRelative(buffer))
		switch {
		case p.asBinary && i > 0 && !(stays && p.file.binary):
			moved[i] = p.append(data)
			continue
		case p.asBinary && i == 0:
			p.bin = data[:len(data):len(data)] // appending must copy
			delete(buffer, "uri")
		case !stays:
			buffer.set("uri", dataURI("application/octet-stream", data))
			buffer.set("byteLength", len(data))
		}
		renumbered[i] = len(kept)
		kept = append(kept, buffer)
	}
	for i, view := range p.views {
		v := p.file.Doc.BufferViews[i]
		if base, ok := moved[v.Buffer]; ok {
			view.set("buffer", 0)
			view.set("byteOffset", base+v.ByteOffset)
		} else if renumbered[v.Buffer] != v.Buffer {
			view.set("buffer", renumbered[v.Buffer])
		}
	}
	p.buffers = kept
	if p.asBinary && len(kept) > 0 {
		kept[0].set("byteLength", len(p.bin))
	}
}

// append adds data to the binary chunk, aligned for any component, and returns
// where it begins.
func (p *packer) append(data []byte) int {
	for len(p.bin)%8 != 0 {
		p.bin = append(p.bin, 0)
	}
	at := len(p.bin)
	p.bin = append(p.bin, data...)
	return at
}

// packImages takes in images whose relative address would lead nowhere, and
// those that a .gltf held as data URIs into a .glb.
func (p *packer) packImages() {
	for i, image := range p.images {
		uri := p.file.Doc.Images[i].URI
		var data []byte
		switch {
		case isRelative(image) && !p.beside:
			data = p.read(uri)
		case isDataURI(uri) && p.asBinary && !p.file.binary:
			data, _ = decodeDataURI(uri)
		}
		mediaType := imageType(data)
		if mediaType == "" {
			continue // unreadable, or nothing that could be vouched for: as it was
		}
		if !p.asBinary || len(p.buffers) == 0 {
			image.set("uri", dataURI(mediaType, data))
			continue
		}
		view := object{}
		view.set("buffer", 0)
		view.set("byteOffset", p.append(data))
		view.set("byteLength", len(data))
		image.set("bufferView", len(p.views))
		image.set("mimeType", mediaType)
		delete(image, "uri")
		p.views = append(p.views, view)
		p.buffers[0].set("byteLength", len(p.bin))
	}
}

// read reads a file that stands in or below the source's folder; nil where it
// cannot be read.
func (p *packer) read(uri string) []byte {
	path, err := url.PathUnescape(uri)
	if err != nil || p.file.dir == nil || !fs.ValidPath(path) {
		return nil
	}
	data, err := fs.ReadFile(p.file.dir, path)
	if err != nil {
		return nil
	}
	return data
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
