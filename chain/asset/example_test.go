package asset_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
)

// wren is Wren, the demo's character, as asset.Open gives her: `pronate demo` writes
// her file.
func wren() *asset.File {
	data, err := demo.Wren()
	if err != nil {
		panic(err)
	}
	f, err := asset.Decode("wren.glb", data, nil)
	if err != nil {
		panic(err)
	}
	return f
}

// wrenFolder is a folder with wren.glb in it, to be removed after use.
func wrenFolder() string {
	folder, err := os.MkdirTemp("", "")
	if err != nil {
		panic(err)
	}
	if err := wren().Save(filepath.Join(folder, "wren.glb")); err != nil {
		panic(err)
	}
	return folder
}

// What is detected, with four segments for the thighs. Split decides the rest, the
// fields here: the thighs' skin is strained less by the shortest arc.
func Example() {
	character := wren()
	limbs, err := asset.Detect(character)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range limbs.Limbs {
		if l := &limbs.Limbs[i]; strings.HasPrefix(l.Joint, "thigh") {
			l.Segments = 4
		}
	}
	_, report, err := asset.Split(character, asset.Options{Limbs: limbs.Limbs})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range report.Limbs[:3] {
		fmt.Printf("%s: %.2f m, %s field, %d segments\n", l.Name, l.Length, l.Field, len(l.Segments))
	}
	// Output:
	// left thigh: 0.42 m, shortest field, 4 segments
	// right thigh: 0.42 m, shortest field, 4 segments
	// left upper arm: 0.32 m, shortest field, 4 segments
}

// From a file to a split file.
func ExampleOpen() {
	folder := wrenFolder()
	defer os.RemoveAll(folder)

	character, err := asset.Open(filepath.Join(folder, "wren.glb"))
	if err != nil {
		fmt.Println(err)
		return
	}
	split, report, err := asset.Split(character, asset.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range report.Warnings {
		fmt.Println(w)
	}
	err = split.Save(filepath.Join(folder, "wren-split.glb"))
	fmt.Println(len(report.Limbs), "limbs split,", err)
	// Output: 6 limbs split, <nil>
}

// Reading checks the whole file. What is wrong is told in one line.
func ExampleDecode() {
	_, err := asset.Decode("wren.gltf", []byte(`{"asset": {"version": "1.0"}}`), nil)
	fmt.Println(err)
	// Output: wren.gltf: asset.version is "1.0", expected 2.0
}

func ExampleDetect() {
	limbs, err := asset.Detect(wren())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range limbs.Limbs {
		fmt.Printf("%s: %s to %s, twist %s\n", l.Name, l.Joint, l.End, l.Twist)
	}
	// Output:
	// left thigh: thigh_l to shin_l, twist own
	// right thigh: thigh_r to shin_r, twist own
	// left upper arm: upper_arm_l to forearm_l, twist own
	// right upper arm: upper_arm_r to forearm_r, twist own
	// left forearm: forearm_l to hand_l, twist tip
	// right forearm: forearm_r to hand_r, twist tip
}

// All of a pipeline: Wren's limbs are found, measured, split and baked. Nothing moves
// at rest.
func ExampleSplit() {
	split, report, err := asset.Split(wren(), asset.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Limbs[0].Name, report.Limbs[0].Segments)
	fmt.Println(len(report.Clips), "clips, at rest within a millionth:", report.RestErrorMax < 1e-6)
	fmt.Println(len(split.Doc.Nodes)-len(wren().Doc.Nodes), "joints more")
	// Output:
	// left thigh [thigh_segment1_l thigh_segment2_l thigh_segment3_l]
	// 4 clips, at rest within a millionth: true
	// 22 joints more
}

// One limb of one's own choice, by Go values instead of a limb file.
func ExampleSplit_limbs() {
	_, report, err := asset.Split(wren(), asset.Options{
		Limbs: []asset.LimbSpec{{
			Joint:    "thigh_l",
			End:      asset.End{Joint: "shin_l"},
			Segments: 4,
			Shares:   asset.Shares{Ramp: asset.SharesSmooth},
		}},
		Influences: 8,
		Names:      "{joint}.{n}",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Limbs[0].Segments)

	_, _, err = asset.Split(wren(), asset.Options{Limbs: []asset.LimbSpec{{Joint: "thihg_l", End: asset.End{Joint: "shin_l"}}}})
	fmt.Println(err)
	// Output:
	// [thigh_l.1 thigh_l.2 thigh_l.3 thigh_l.4]
	// wren.glb: limb "thihg_l": joint: there is no node "thihg_l", did you mean "thigh_l"?
}

// Save writes a .glb or a .gltf, by the name; Open reads either.
func ExampleFile_Save() {
	folder := wrenFolder()
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "wren.gltf")
	if err := wren().Save(path); err != nil {
		fmt.Println(err)
		return
	}
	f, err := asset.Open(path)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Doc.Nodes[0].Name)
	// Output: pelvis
}
