package asset

import (
	"encoding/binary"
	"encoding/json"
)

// encodeGLB lays out a binary glTF (glTF 2.0, section 4.4): a header, a JSON
// chunk padded with spaces, where there is data a binary chunk padded with
// zeros, and whatever further chunks the source had.
func encodeGLB(root json.RawMessage, bin []byte, extra []chunk) []byte {
	out := []byte("glTF")
	out = binary.LittleEndian.AppendUint32(out, 2)
	out = binary.LittleEndian.AppendUint32(out, 0) // the length, once it is known
	out = appendChunk(out, chunkJSON, root, ' ')
	if len(bin) > 0 {
		out = appendChunk(out, chunkBinary, bin, 0)
	}
	for _, c := range extra {
		out = appendChunk(out, c.kind, c.data, 0)
	}
	binary.LittleEndian.PutUint32(out[8:], uint32(len(out)))
	return out
}

// appendChunk pads the chunk's data to a multiple of four bytes.
func appendChunk(out []byte, kind uint32, data []byte, padding byte) []byte {
	padded := (len(data) + 3) / 4 * 4
	out = binary.LittleEndian.AppendUint32(out, uint32(padded))
	out = binary.LittleEndian.AppendUint32(out, kind)
	out = append(out, data...)
	for range padded - len(data) {
		out = append(out, padding)
	}
	return out
}
