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
// joint's where it has none. rest says what no limb file does: of it axis and the
// rest rotations are read. See [asset.LimbSpec.Solver].
func FromText(text []byte, name string, rest Spec) (Handle, error) {
	if err := rest.checkFrames(); err != nil {
		return 0, err
	}
	file, err := asset.ParseLimbs("limb file", text)
	if err != nil {
		return 0, BadSpec.errorf("%s", err)
	}
	var names []string
	for _, l := range file.Limbs {
		if l.Name != name {
			names = append(names, fmt.Sprintf("%q", l.Name))
			continue
		}
		solver, err := l.Solver(asset.Stance{
			Axis: vector(rest.Axis), Anchor: frame(rest.AnchorRest), Joint: frame(rest.JointRest), Tip: frame(rest.TipRest),
		})
		if err != nil {
			return 0, BadSpec.errorf("%s", err)
		}
		return add(solver), nil
	}
	return 0, BadSpec.errorf("the limb file has no limb %q, expected one of %s", name, strings.Join(names, ", "))
}
