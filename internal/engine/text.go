//go:build !wasip1

// The reader of limb files brings YAML and glTF along, megabytes that a page would
// load for nothing: under WebAssembly limbs come from ParseSpec.

package engine

import (
	"fmt"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// FromText makes a limb from the text of a limb file. name is the limb's, or its
// joint's. rest says what no limb file does: of it axis and the rest rotations are
// read. See [asset.LimbSpec.Solver]. The error may be a remark: the file's range was
// left out.
func FromText(text []byte, name string, rest Spec) (Handle, error) {
	if err := rest.checkFrames(); err != nil {
		return 0, err
	}
	if len(text) > 0 && text[len(text)-1] == 0 {
		return 0, BadSpec.errorf("the limb file ends in a NUL byte, expected its text alone: length is what strlen says, one less than sizeof")
	}
	file, err := asset.ParseLimbs("limb file", text)
	if err != nil {
		return 0, BadSpec.errorf("%s", err)
	}
	limb, err := limbCalled(name, file.Limbs)
	if err != nil {
		return 0, err
	}
	solver, note, err := limb.Solver(asset.Stance{
		Axis: vector(rest.Axis), Anchor: frame(rest.AnchorRest), Joint: frame(rest.JointRest), Tip: frame(rest.TipRest),
	})
	if err != nil {
		return 0, BadSpec.errorf("%s", err)
	}
	if note != "" {
		return add(solver), RangeOut.errorf("limb %q: range: %s; its field is %s", limb.Name, note, solver.FieldKind())
	}
	return add(solver), nil
}

// limbCalled is the limb of that name, or else the one on the joint of that name: a
// joint has one limb.
func limbCalled(name string, limbs []asset.LimbSpec) (asset.LimbSpec, error) {
	names := make([]string, len(limbs))
	for i, l := range limbs {
		if l.Name == name {
			return l, nil
		}
		names[i] = fmt.Sprintf("%q", l.Name)
	}
	for _, l := range limbs {
		if l.Joint == name {
			return l, nil
		}
	}
	if len(limbs) == 0 {
		return asset.LimbSpec{}, BadSpec.errorf("the limb file has no limbs, expected one that is called %q", name)
	}
	return asset.LimbSpec{}, BadSpec.errorf("the limb file has no limb %q, expected one of %s", name, strings.Join(names, ", "))
}
