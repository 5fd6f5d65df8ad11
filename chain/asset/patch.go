package asset

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"

	"github.com/qmuntal/gltf"
)

// patch changes a file's JSON and its first buffer in place of encoding the
// typed document anew: what is not touched keeps every property, known or
// unknown, and every number as it was written.
type patch struct {
	file   *File
	root   map[string]json.RawMessage
	arrays map[string][]json.RawMessage
	bin    parts // the first buffer, grown
	slots  slots
}

func newPatch(f *File) (*patch, error) {
	p := &patch{
		file:   f,
		root:   maps.Clone(f.root),
		arrays: map[string][]json.RawMessage{},
		slots:  newSlots(f),
	}
	p.bin.add(f.Doc.Buffers[0].Data)
	for _, name := range []string{"accessors", "animations", "bufferViews", "buffers", "meshes", "nodes", "skins"} {
		if raw, ok := p.root[name]; ok {
			var items []json.RawMessage
			if err := json.Unmarshal(raw, &items); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", f.Name, name, err)
			}
			p.arrays[name] = items
		}
	}
	return p, nil
}

// object is one JSON object with its members as they were written.
type object map[string]json.RawMessage

func parseObject(raw json.RawMessage) (object, error) {
	o := object{}
	if len(raw) == 0 {
		return o, nil
	}
	err := json.Unmarshal(raw, &o)
	return o, err
}

// set gives a member a new value.
func (o object) set(key string, value any) { o[key] = encode(value) }

// encode is json.Marshal without the escapes that only HTML needs. What comes
// here is our own or raw JSON that has been parsed before: it cannot fail.
func encode(value any) json.RawMessage {
	var buffer bytes.Buffer
	encoder := json.NewEncoder(&buffer)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		panic(fmt.Sprintf("asset: encoding %T: %v", value, err))
	}
	return bytes.TrimSuffix(buffer.Bytes(), []byte("\n"))
}

// edit changes one element of a top-level array.
func (p *patch) edit(array string, index int, change func(object) error) error {
	o, err := parseObject(p.arrays[array][index])
	if err != nil {
		return fmt.Errorf("%s: %s[%d]: %w", p.file.Name, array, index, err)
	}
	if err := change(o); err != nil {
		return err
	}
	p.arrays[array][index] = encode(o)
	return nil
}

// add appends an element to a top-level array and returns its index.
func (p *patch) add(array string, value any) int {
	p.arrays[array] = append(p.arrays[array], encode(value))
	return len(p.arrays[array]) - 1
}

// addAccessor stores data, tightly packed, behind a new buffer view and
// accessor, and returns the accessor's index. Slots that lost their last user
// are taken first. The data is not to be written to any more.
func (p *patch) addAccessor(accessor gltf.Accessor, target gltf.Target, data []byte) int {
	p.bin.pad(0, 4)
	view := &gltf.BufferView{Buffer: 0, ByteOffset: p.bin.size, ByteLength: len(data), Target: target}
	p.bin.add(data)
	index := p.put("bufferViews", &p.slots.freeViews, view)
	accessor.BufferView = &index
	return p.put("accessors", &p.slots.freeAccessors, &accessor)
}

// put stores value in a free slot of an array, or at its end.
func (p *patch) put(array string, free *[]int, value any) int {
	if n := len(*free); n > 0 {
		index := (*free)[n-1]
		*free = (*free)[:n-1]
		p.arrays[array][index] = encode(value)
		return index
	}
	return p.add(array, value)
}

// finish returns the patched JSON and first buffer.
func (p *patch) finish() (json.RawMessage, parts, error) {
	// An accessor that lost its last user and whose slot nobody took must not
	// go on describing bytes that are gone: one without a view reads as zeros.
	for _, index := range p.slots.freeAccessors {
		p.arrays["accessors"][index] = encode(&gltf.Accessor{ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: 1})
	}
	if p.slots.released {
		if err := p.compact(); err != nil {
			return nil, parts{}, err
		}
	}
	err := p.edit("buffers", 0, func(o object) error {
		o.set("byteLength", p.bin.size)
		delete(o, "uri")
		return nil
	})
	if err != nil {
		return nil, parts{}, err
	}
	for name, items := range p.arrays {
		p.root[name] = encode(items)
	}
	return encode(p.root), p.bin, nil
}

// readBack reads the patched file, so that what is handed out has passed the same
// checks as any other file.
func (f *File) readBack(p *patch) (*File, error) {
	root, bin, err := p.finish()
	if err != nil {
		return nil, err
	}
	data, err := encodeGLB(root, bin.slices, f.extra)
	if err != nil {
		return nil, fmt.Errorf("%s: the changed character: %w", f.Name, err)
	}
	out, err := Decode(f.Name, data, f.dir)
	if err != nil {
		return nil, fmt.Errorf("reading the changed character back: %w", err)
	}
	out.binary, out.folder = f.binary, f.folder
	return out, nil
}
