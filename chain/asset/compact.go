package asset

import (
	"encoding/json"
	"fmt"
	"slices"
)

// stretch is a run of bytes of the first buffer.
type stretch struct{ from, to, moved int }

// compact drops the bytes of the first buffer that no buffer view shows any
// more. Views that overlap stay together, and every run keeps its place modulo
// 8, so that no accessor loses its alignment.
func (p *patch) compact() error {
	var live []stretch
	views := make([]struct{ Buffer, ByteOffset, ByteLength int }, len(p.arrays["bufferViews"]))
	free := make([]bool, len(views))
	for _, i := range p.slots.freeViews {
		free[i] = true
	}
	for i, raw := range p.arrays["bufferViews"] {
		if err := json.Unmarshal(raw, &views[i]); err != nil {
			return fmt.Errorf("%s: bufferViews[%d]: %w", p.file.Name, i, err)
		}
		if v := views[i]; v.Buffer == 0 && !free[i] {
			live = append(live, stretch{from: v.ByteOffset, to: v.ByteOffset + v.ByteLength})
		}
	}
	live = merge(live)
	var bin parts
	for i := range live {
		bin.pad(live[i].from, 8)
		live[i].moved = bin.size - live[i].from
		bin.addFrom(&p.bin, live[i].from, live[i].to)
	}
	for i, v := range views {
		if v.Buffer != 0 {
			continue
		}
		offset, length := 0, min(v.ByteLength, bin.size) // of a view that nothing uses: any place will do
		// The last run that begins at or before the view holds it, if any does.
		at, _ := slices.BinarySearchFunc(live, v.ByteOffset+1, func(s stretch, from int) int { return s.from - from })
		if at--; at >= 0 && !free[i] {
			offset, length = v.ByteOffset+live[at].moved, v.ByteLength
		}
		err := p.edit("bufferViews", i, func(o object) error {
			delete(o, "byteOffset")
			o.set("byteLength", length)
			if offset != 0 {
				o.set("byteOffset", offset)
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	p.bin = bin
	return nil
}

// merge sorts stretches and joins those that overlap.
func merge(in []stretch) []stretch {
	slices.SortFunc(in, func(a, b stretch) int { return a.from - b.from })
	var out []stretch
	for _, s := range in {
		if n := len(out); n > 0 && s.from < out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}
