package asset

import "slices"

// AtRest returns a copy of a file without clips whose nodes stand in the pose [Rest],
// for programs that know no other rest than the node pose. The file itself is returned
// where its nodes stand so already. See [WithoutClips].
func AtRest(f *File) (*File, error) {
	at, err := f.poses()
	if err != nil {
		return nil, err
	}
	if len(f.Doc.Buffers) == 0 || !slices.Contains(at.posed, true) {
		return f, nil
	}
	p, err := newPatch(f)
	if err != nil {
		return nil, err
	}
	for node, posed := range at.posed {
		if !posed {
			continue
		}
		to := at.rest[node]
		err := p.edit("nodes", node, func(o object) error {
			for _, key := range []string{"matrix", "translation", "rotation", "scale"} {
				delete(o, key)
			}
			if to.matrix != nil { // it has shear
				o.set("matrix", *to.matrix)
				return nil
			}
			o.set("translation", to.translation)
			o.set("rotation", [4]float64{to.rotation.Imag, to.rotation.Jmag, to.rotation.Kmag, to.rotation.Real})
			o.set("scale", to.scale)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return f.readBack(p)
}
