package asset

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
)

// encodeGLB lays out a binary glTF (glTF 2.0, section 4.4): a header, a JSON
// chunk padded with spaces, where there is data a binary chunk padded with
// zeros, and whatever further chunks the source had. The data may come in parts.
func encodeGLB(root json.RawMessage, bin [][]byte, extra []chunk) ([]byte, error) {
	chunks := []int{chunkSize(root)}
	if len(bin) > 0 {
		chunks = append(chunks, chunkSize(bin...))
	}
	for _, c := range extra {
		chunks = append(chunks, chunkSize(c.data))
	}
	size, err := glbSize(chunks)
	if err != nil {
		return nil, err
	}
	out := append(make([]byte, 0, size), "glTF"...)
	out = binary.LittleEndian.AppendUint32(out, 2)
	out = binary.LittleEndian.AppendUint32(out, size)
	out = appendChunk(out, chunkJSON, ' ', root)
	if len(bin) > 0 {
		out = appendChunk(out, chunkBinary, 0, bin...)
	}
	for _, c := range extra {
		out = appendChunk(out, c.kind, 0, c.data)
	}
	return out, nil
}

// glbSize is the length of a file of chunks of these sizes. The header has 32 bits
// for it.
func glbSize(chunks []int) (uint32, error) {
	size := uint64(glbHeaderSize)
	for _, n := range chunks {
		size += uint64(n)
	}
	if size > math.MaxUint32 {
		return 0, fmt.Errorf("takes %d bytes as a .glb, expected %d at most; as a .gltf it may be larger", size, uint32(math.MaxUint32))
	}
	return uint32(size), nil
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
