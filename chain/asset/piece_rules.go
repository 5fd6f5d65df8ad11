package asset

// setRules decides what becomes of each part that has weight on the limb's joint,
// in l.rules; a part that is not there is split. Whoever knows better changes the
// rules before the skin is weighted anew.
func (l *limb) setRules(all *pieces) error {
	exclude, err := l.selected(all, "exclude", l.spec.Exclude)
	if err != nil {
		return err
	}
	rigid, err := l.selected(all, "rigid", l.spec.Rigid)
	if err != nil {
		return err
	}
	for _, p := range l.pieces {
		if p.rides {
			rigid.pieces[p.piece] = true
		}
	}
	l.rules = map[piecePart]pieceRule{}
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		last := noPiece - 1
		for _, piece := range w.piece {
			if piece == last {
				continue
			}
			last = piece
			p := piecePart{w.wearing, piece}
			switch {
			case exclude.has(p):
				l.rules[p] = leftPiece
			case rigid.has(p):
				l.rules[p] = rigidPiece
			}
		}
	})
	return nil
}

// homes are the segments that rigid parts move with, by what moves as one: all
// rigid parts of a piece, or the loose points of a primitive.
func (l *limb) homes(all *pieces) map[piecePart]int {
	type mean struct{ weight, sum float64 }
	means := map[piecePart]mean{}
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		for v, piece := range w.piece {
			p := piecePart{w.wearing, piece}
			if l.rules[p] != rigidPiece || !w.used[v] && piece != noPiece {
				continue
			}
			if weight := w.weightOf(frame.joint, v); weight > 0 {
				m := means[p.whole()]
				m.weight += weight
				m.sum += weight * frame.along(w.positions, v)
				means[p.whole()] = m
			}
		}
	})
	out := map[piecePart]int{}
	for p, m := range means {
		out[p] = homeSegment(m.sum/m.weight, l.solver.Segments())
	}
	return out
}

// whole is what a part moves as one with where it is rigid.
func (p piecePart) whole() piecePart {
	if p.piece != noPiece {
		p.wearing = wearing{}
	}
	return p
}

// moves reports whether any vertex under a skin gives weight to the segments.
func (l *limb) moves(all *pieces, skin int) bool {
	frame, ok := l.frames[skin]
	if !ok {
		return false
	}
	for i := range all.worn {
		w := &all.worn[i]
		if w.skin != skin {
			continue
		}
		for v, piece := range w.piece {
			if l.rules[piecePart{w.wearing, piece}] != leftPiece && w.weightOf(frame.joint, v) > 0 {
				return true
			}
		}
	}
	return false
}

// pieceReports say what becomes of the limb's pieces.
func (l *limb) pieceReports(all *pieces) (out []PieceReport) {
	handling := map[int]string{}
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		for v, piece := range w.piece {
			if !w.used[v] || w.weightOf(frame.joint, v) == 0 {
				continue
			}
			rule := l.rules[piecePart{w.wearing, piece}].String()
			if other, known := handling[piece]; known && other != rule {
				rule = "mixed"
			}
			handling[piece] = rule
		}
	})
	for _, p := range l.pieces {
		out = append(out, PieceReport{Piece: p.id, From: p.from, To: p.to, Vertices: p.vertices, Handling: handling[p.piece]})
	}
	return out
}
