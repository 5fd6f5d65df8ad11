package asset

import (
	"encoding/binary"
	"encoding/json"
)

// encodeGLB lays out a binary glTF (glTF 2.0, section 4.4): a header, a JSON
// chunk padded with spaces, where there is data a binary chunk padded with
// zeros, and whatever further chunks the source had. The data may come in parts.
func encodeGLB(root json.RawMessage, bin [][]byte, extra []chunk) []byte {
	size := glbHeaderSize + chunkSize(root)
	if len(bin) > 0 {
		size += chunkSize(bin...)
	}
	for _, c := range extra {
		size += chunkSize(c.data)
	}
	out := append(make([]byte, 0, size), "glTF"...)
	out = binary.LittleEndian.AppendUint32(out, 2)
	out = binary.LittleEndian.AppendUint32(out, uint32(size))
	out = appendChunk(out, chunkJSON, ' ', root)
	if len(bin) > 0 {
		out = appendChunk(out, chunkBinary, 0, bin...)
	}
	for _, c := range extra {
		out = appendChunk(out, c.kind, 0, c.data)
	}
	return out
}

// chunkSize is what a chunk takes with its head and padding.
func chunkSize(data ...[]byte) int {
	size := 0
	for _, part := range data {
		size += len(part)
	}
	return chunkHeadSize + (size+3)/4*4
}

// appendChunk pads the chunk's data to a multiple of four bytes.
func appendChunk(out []byte, kind uint32, padding byte, data ...[]byte) []byte {
	size := chunkSize(data...)
	end := len(out) + size
	out = binary.LittleEndian.AppendUint32(out, uint32(size-chunkHeadSize))
	out = binary.LittleEndian.AppendUint32(out, kind)
	for _, part := range data {
		out = append(out, part...)
	}
	for len(out) < end {
		out = append(out, padding)
	}
	return out
}
