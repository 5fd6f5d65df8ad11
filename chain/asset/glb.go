package asset

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// chunk is one chunk of a .glb container.
type chunk struct {
	kind uint32
	data []byte
}

// Types of chunks and the sizes of headers (glTF 2.0, section 4.4).
const (
	chunkJSON     = 0x4e4f534a
	chunkBinary   = 0x004e4942
	glbHeaderSize = 12
	chunkHeadSize = 8
)

// container takes a file apart into its JSON and, for a .glb, the BIN chunk,
// which is nil where there is none.
//
// gltf.Decoder is not used for it: it adds 32-bit lengths that may overflow,
// drops chunks it does not know and copies a buffer before it has looked how
// long the file is.
func (f *File) container(data []byte) (text, bin []byte, err error) {
	switch {
	case len(data) == 0:
		return nil, nil, errors.New("is empty, expected a glTF 2.0 file")
	case bytes.HasPrefix(data, []byte("glTF")):
		f.binary = true
		text, bin, err = f.chunks(data)
	default:
		text = data
	}
	if err != nil {
		return nil, nil, err
	}
	// The specification rules a byte order mark out; editors add it all the same.
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	// Padding of the JSON chunk is spaces; some writers use zeros.
	text = bytes.TrimRight(text, "\x00 ")
	if start := bytes.TrimLeft(text, " \t\r\n"); len(start) == 0 || start[0] != '{' {
		return nil, nil, errors.New("is neither glTF JSON nor binary glTF, expected a glTF 2.0 file")
	}
	return text, bin, nil
}

// chunks takes a .glb apart.
func (f *File) chunks(data []byte) (text, bin []byte, err error) {
	if len(data) < glbHeaderSize {
		return nil, nil, fmt.Errorf("is cut off after %d bytes, expected a header of %d", len(data), glbHeaderSize)
	}
	if version := binary.LittleEndian.Uint32(data[4:]); version != 2 {
		return nil, nil, fmt.Errorf("is binary glTF version %d, expected 2", version)
	}
	if length := binary.LittleEndian.Uint32(data[8:]); uint64(length) != uint64(len(data)) {
		return nil, nil, fmt.Errorf("has %d bytes, expected the %d its header tells of", len(data), length)
	}
	for rest, n := data[glbHeaderSize:], 0; len(rest) > 0 || n == 0; n++ {
		if len(rest) < chunkHeadSize {
			return nil, nil, fmt.Errorf("chunk %d is cut off, expected a header of %d bytes where %d are left", n, chunkHeadSize, len(rest))
		}
		length, kind := binary.LittleEndian.Uint32(rest), binary.LittleEndian.Uint32(rest[4:])
		rest = rest[chunkHeadSize:]
		if uint64(length) > uint64(len(rest)) {
			return nil, nil, fmt.Errorf("chunk %d has %d bytes, but only %d are left in the file", n, length, len(rest))
		}
		body := rest[:length:length]
		rest = rest[length:]
		switch {
		case n == 0:
			if kind != chunkJSON {
				return nil, nil, fmt.Errorf("chunk 0 is of type %#08x, expected JSON", kind)
			}
			text = body
		case n == 1 && kind == chunkBinary:
			bin = body
		default:
			f.extra = append(f.extra, chunk{kind: kind, data: body})
		}
	}
	return text, bin, nil
}
