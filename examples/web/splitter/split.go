package splitter

import (
	"errors"
	"fmt"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/qmuntal/gltf"
)

// report is what Split says of the character that it made. Nodes are places in its
// file's list of nodes, where those of the source keep theirs.
type report struct {
	Limbs    []limbReport `json:"limbs"`
	Warnings []string     `json:"warnings"`
}

type limbReport struct {
	Name     string  `json:"name"`
	Joint    int     `json:"joint"`
	Tip      int     `json:"tip"` // -1 where the joint's own twist is ramped
	Segments []int   `json:"segments"`
	Length   float64 `json:"end_length_m"`

	// A segment turns about BoneAxis by Sense times the solver's angle; where the
	// joint's own scale is even that is just what the solver says.
	BoneAxis [3]float64 `json:"bone_axis"`
	Sense    float64    `json:"sense"`

	Solver         specification `json:"solver"`
	WeightMovedMax float64       `json:"weight_moved_max"`
}

// Split splits a character at rest, into what it is asked for: nothing is measured. Its
// clips are left out, for the page moves it itself. It returns a .glb and what to know of
// it as JSON.
func Split(name string, data []byte, limbs string) (glb []byte, text string, err error) {
	specs, err := limbsOf(limbs)
	if err != nil {
		return nil, "", oneLine(err)
	}
	glb, said, err := split(name, data, specs)
	if err != nil {
		return nil, "", oneLine(err)
	}
	text, err = encoded(said)
	return glb, text, err
}

func split(name string, data []byte, specs []asset.LimbSpec) (glb []byte, said report, err error) {
	moving, err := asset.Decode(name, data, nil)
	if err != nil {
		return nil, said, err
	}
	source, err := atRest(moving)
	if err != nil {
		return nil, said, err
	}
	out, done, err := asset.Split(source, asset.Options{Limbs: specs, AsAsked: true})
	if err != nil {
		return nil, said, err
	}
	infos, err := asset.Resolve(source, specs)
	if err != nil {
		return nil, said, err
	}
	said.Warnings = append([]string{}, done.Warnings...)
	for i, l := range infos {
		solver, err := specificationOf(l)
		if err != nil {
			return nil, said, fmt.Errorf("%s: limb %q: %w", source.Name, l.Spec.Name, err)
		}
		made := done.Limbs[i]
		segments, err := segmentsOf(out.Doc, l.Joint, made.Segments)
		if err != nil {
			return nil, said, fmt.Errorf("%s: limb %q: %w", source.Name, l.Spec.Name, err)
		}
		said.Limbs = append(said.Limbs, limbReport{
			Name: l.Spec.Name, Joint: l.Joint, Tip: l.Tip, Segments: segments, Length: l.Length,
			BoneAxis: components(l.Axis), Sense: l.Sense, Solver: solver, WeightMovedMax: made.WeightMovedMax,
		})
	}
	glb, err = out.Encode(true, false)
	return glb, said, err
}

// atRest is a character without clips whose nodes stand at rest, which is what the page
// turns joints from.
func atRest(f *asset.File) (*asset.File, error) {
	f, err := asset.WithoutClips(f)
	if err != nil {
		return nil, err
	}
	return asset.AtRest(f)
}

// segmentsOf are a joint's segments, which are its last children.
func segmentsOf(doc *gltf.Document, joint int, names []string) ([]int, error) {
	children := doc.Nodes[joint].Children
	if len(children) < len(names) {
		return nil, errors.New("the joint has lost its segments, expected them as its children")
	}
	segments := children[len(children)-len(names):]
	for i, node := range segments {
		if doc.Nodes[node].Name != names[i] {
			return nil, fmt.Errorf("node %d is called %q, expected segment %q", node, doc.Nodes[node].Name, names[i])
		}
	}
	return segments, nil
}

// LimbFile writes the page's limbs as a limb file, by which `pronate split --limbs`
// splits them as they are and measures nothing.
func LimbFile(limbs string) (string, error) {
	specs, err := limbsOf(limbs)
	if err != nil {
		return "", oneLine(err)
	}
	text := asset.Limbs{Version: asset.LimbsVersion, Limbs: specs, Resolved: true}.YAML()
	// What is taken away has to be of use: limbs that no character could have are
	// found by reading it back.
	if _, err := asset.ParseLimbs("the limb file", text); err != nil {
		return "", oneLine(err)
	}
	return strings.ToValidUTF8(string(text), "\uFFFD"), nil
}
