package asset_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// Wren, with names for her joints that tell nothing: the error says so in a line, and
// then shows the joints and how to name the limbs.
func ExampleNoLimbsError() {
	text, err := wren().Encode(false, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	odd := strings.NewReplacer(`"thigh`, `"a`, `"shin`, `"b`, `"upper_arm`, `"c`, `"forearm`, `"d`, `"hand`, `"e`, `"foot`, `"f`).Replace(string(text))
	character, err := asset.Decode("odd.gltf", []byte(odd), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = asset.Detect(character)
	var none *asset.NoLimbsError
	if !errors.As(err, &none) {
		fmt.Println(err)
		return
	}
	first, _, _ := strings.Cut(none.Error(), "\n")
	fmt.Println(first)
	fmt.Println(strings.Contains(none.Help, "version: 1"))
	// Output:
	// odd.gltf: found no arms or legs by the names of its joints, expected a limb file that names them
	// true
}

// The limb file's schema, for an editor.
func ExampleLimbsSchema() {
	var schema struct{ Title string }
	err := json.Unmarshal([]byte(asset.LimbsSchema()), &schema)
	fmt.Println(schema.Title, err)
	// Output: Limb file <nil>
}

// A file's bytes, for those who write or send them themselves: as .glb or as .gltf.
func ExampleFile_Encode() {
	binary, err := wren().Encode(true, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := wren().Encode(false, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %t\n", binary[:4], json.Valid(text))
	// Output: glTF true
}
