package asset

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestImageType(t *testing.T) {
	var asPNG, asJPEG bytes.Buffer
	picture := image.NewGray(image.Rect(0, 0, 2, 2))
	require.NoError(t, png.Encode(&asPNG, picture))
	require.NoError(t, jpeg.Encode(&asJPEG, picture, nil))
	for want, data := range map[string][]byte{
		"image/png":  asPNG.Bytes(),
		"image/jpeg": asJPEG.Bytes(),
		"image/webp": []byte("RIFF\x10\x00\x00\x00WEBPVP8 "),
		"image/ktx2": []byte("\xabKTX 20\xbb\r\n\x1a\n\x00"), // Khronos, KTX file format 2.0, section 3.1
	} {
		require.Equal(t, want, imageType(data))
		for i := range 3 {
			require.Empty(t, imageType(data[:i]), "cut short")
		}
	}
	require.Empty(t, imageType([]byte("<svg></svg>")))
	require.Empty(t, imageType(nil))
}
