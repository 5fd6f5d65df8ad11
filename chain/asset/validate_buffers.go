package asset

import (
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"path"
	"strings"

	"github.com/pronate/pronate/internal/printable"
)

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
		return nil, errors.New(printable.Text(err.Error()))
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
