package asset

// WithoutClips returns a copy of a file without its animations: for looking at a
// character in poses of one's own, see [AddClip]. The data that the animations
// used stays in the buffer.
func WithoutClips(f *File) (*File, error) {
	if len(f.Doc.Animations) == 0 || len(f.Doc.Buffers) == 0 {
		return f, nil
	}
	p, err := newPatch(f)
	if err != nil {
		return nil, err
	}
	delete(p.root, "animations")
	delete(p.arrays, "animations")
	return f.readBack(p)
}
