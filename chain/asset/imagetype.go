package asset

import "bytes"

// imageTypes are the images that glTF 2.0 and its registered extensions know, by
// how their files begin, after some bytes. (Package net/http would tell as well,
// and bring its whole network into every engine.)
var imageTypes = []struct {
	mediaType string
	skip      int
	begin     []byte
}{
	{"image/png", 0, []byte("\x89PNG\r\n\x1a\n")},
	{"image/jpeg", 0, []byte("\xff\xd8\xff")},
	{"image/webp", 8, []byte("WEBP")},
	{"image/ktx2", 0, []byte("\xabKTX 20\xbb\r\n\x1a\n")},
}

// imageType is an image's media type; empty where it is none that glTF knows.
func imageType(data []byte) string {
	for _, t := range imageTypes {
		if len(data) > t.skip && bytes.HasPrefix(data[t.skip:], t.begin) {
			return t.mediaType
		}
	}
	return ""
}
