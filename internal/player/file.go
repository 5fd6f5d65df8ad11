package player

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"strings"
)

// document holds the parts of a glTF file that matter to a skinned character.
type document struct {
	Scene  *int `json:"scene"`
	Scenes []struct {
		Nodes []int `json:"nodes"`
	} `json:"scenes"`
	Nodes       []node       `json:"nodes"`
	Meshes      []mesh       `json:"meshes"`
	Skins       []skin       `json:"skins"`
	Animations  []animation  `json:"animations"`
	Accessors   []accessor   `json:"accessors"`
	BufferViews []bufferView `json:"bufferViews"`
	Buffers     []struct {
		URI        *string `json:"uri"`
		ByteLength int     `json:"byteLength"`
	} `json:"buffers"`

	bytes [][]byte // of each buffer
}

type node struct {
	Name        string       `json:"name"`
	Children    []int        `json:"children"`
	Mesh        *int         `json:"mesh"`
	Skin        *int         `json:"skin"`
	Matrix      *[16]float64 `json:"matrix"`
	Translation *[3]float64  `json:"translation"`
	Rotation    *[4]float64  `json:"rotation"`
	Scale       *[3]float64  `json:"scale"`
	Weights     []float64    `json:"weights"`
	Extensions  struct {
		Constraint *struct {
			Constraint constraint `json:"constraint"`
		} `json:"VRMC_node_constraint"`
	} `json:"extensions"`
}

type mesh struct {
	Weights    []float64 `json:"weights"`
	Primitives []struct {
		Attributes map[string]int   `json:"attributes"`
		Targets    []map[string]int `json:"targets"`
	} `json:"primitives"`
}

type skin struct {
	InverseBindMatrices *int  `json:"inverseBindMatrices"`
	Joints              []int `json:"joints"`
}

type animation struct {
	Name     string `json:"name"`
	Channels []struct {
		Sampler int `json:"sampler"`
		Target  struct {
			Node *int   `json:"node"`
			Path string `json:"path"`
		} `json:"target"`
	} `json:"channels"`
	Samplers []struct {
		Input         int    `json:"input"`
		Output        int    `json:"output"`
		Interpolation string `json:"interpolation"`
	} `json:"samplers"`
}

// parse reads the container and its buffers. files resolves relative URIs and
// may be nil.
func parse(data []byte, files fs.FS) (*document, error) {
	text, chunk := data, []byte(nil)
	if bytes.HasPrefix(data, []byte("glTF")) {
		var err error
		if text, chunk, err = chunks(data); err != nil {
			return nil, err
		}
	}
	d := new(document)
	if err := json.Unmarshal(text, d); err != nil {
		return nil, err
	}
	for i, b := range d.Buffers {
		content := chunk
		switch {
		case b.URI != nil:
			var err error
			if content, err = resolve(*b.URI, files); err != nil {
				return nil, fmt.Errorf("buffer %d: %w", i, err)
			}
		case i != 0 || chunk == nil:
			return nil, fmt.Errorf("buffer %d has no bytes", i)
		}
		if len(content) < b.ByteLength {
			return nil, fmt.Errorf("buffer %d: %d bytes, expected %d", i, len(content), b.ByteLength)
		}
		d.bytes = append(d.bytes, content[:b.ByteLength])
	}
	return d, nil
}

// chunks takes a .glb apart: specification section 4.4.
func chunks(data []byte) (text, binaryChunk []byte, err error) {
	if len(data) < 12 || int(binary.LittleEndian.Uint32(data[8:])) != len(data) {
		return nil, nil, errors.New("glb: the length in the header is not the file's")
	}
	for rest := data[12:]; len(rest) > 0; {
		if len(rest) < 8 {
			return nil, nil, errors.New("glb: truncated chunk")
		}
		n, kind := int(binary.LittleEndian.Uint32(rest)), string(rest[4:8])
		if n > len(rest)-8 {
			return nil, nil, errors.New("glb: truncated chunk")
		}
		switch {
		case kind == "JSON" && text == nil:
			text = rest[8 : 8+n]
		case kind == "BIN\x00" && binaryChunk == nil:
			binaryChunk = rest[8 : 8+n]
		}
		rest = rest[8+n:]
	}
	return text, binaryChunk, nil
}

func resolve(uri string, files fs.FS) ([]byte, error) {
	if strings.HasPrefix(uri, "data:") {
		_, body, found := strings.Cut(uri, ";base64,")
		if !found {
			return nil, errors.New("data URI is not base64")
		}
		return base64.StdEncoding.DecodeString(body)
	}
	if files == nil {
		return nil, fmt.Errorf("no folder to read %q from", uri)
	}
	name, err := url.PathUnescape(uri)
	if err != nil {
		return nil, err
	}
	return fs.ReadFile(files, name)
}
