package asset

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/spatial/r3"
)

// limbPiece is a piece that has weight on a limb's joint, as the limb sees it.
type limbPiece struct {
	piece    int     // its number
	id       string  // as a limb file names it
	vertices int     // that have weight on the joint, each once a primitive that draws it
	from, to float64 // their places along the bone, 0 at the joint and 1 at its end
	centre   float64 // the mean of their places, by their weights
	round    bool    // whether it goes round the bone
	rides    bool    // whether it does not, where another piece does
}

// boneFrame places what a skin wears about a limb's bone: x is the place along the
// bone, 0 at the joint and 1 at the end, y and z lie across, in the same unit.
type boneFrame struct {
	joint int // index in the skin
	mgl64.Mat4
}

func (f boneFrame) place(positions []float64, v int) r3.Vec {
	x, y, z := positions[3*v], positions[3*v+1], positions[3*v+2]
	row := func(i int) float64 { return f.Mat4[i]*x + f.Mat4[4+i]*y + f.Mat4[8+i]*z + f.Mat4[12+i] }
	return r3.Vec{X: row(0), Y: row(1), Z: row(2)}
}

// along is the place along the bone, within it.
func (f boneFrame) along(positions []float64, v int) float64 {
	return min(max(f.place(positions, v).X, 0), 1)
}

// setFrames finds the limb's bone in each skin that has its joint.
func (l *limb) setFrames(f *File, inverseBind func(skin int) ([]mgl64.Mat4, error)) error {
	l.frames = map[int]boneFrame{}
	away := r3.Vec{X: 1} // from the bone
	if math.Abs(l.axis.X) > math.Max(math.Abs(l.axis.Y), math.Abs(l.axis.Z)) {
		away = r3.Vec{Y: 1}
	}
	across := r3.Unit(r3.Cross(l.axis, away))
	beside := r3.Cross(l.axis, across)
	row := func(v r3.Vec) mgl64.Vec4 {
		v = r3.Scale(1/l.length, v)
		return mgl64.Vec4{v.X, v.Y, v.Z, 0}
	}
	inBone := mgl64.Mat4FromRows(row(l.axis), row(across), row(beside), mgl64.Vec4{0, 0, 0, 1})
	for i, s := range f.Doc.Skins {
		at := slices.Index(s.Joints, l.joint)
		if at < 0 {
			continue
		}
		matrices, err := inverseBind(i)
		if err != nil {
			return err
		}
		l.frames[i] = boneFrame{joint: at, Mat4: inBone.Mul4(matrices[at])}
	}
	return nil
}

// A piece is looked at in a few stations between the first and the last of the
// triangles that have weight, and the bone in some from joint to end.
const pieceStations, boneStations = 8, 16

// sightings are from where on the bone which pieces are seen.
type sightings struct {
	limbPiece
	weight      float64 // sum
	first, last float64 // of the triangles that have weight
	own         [pieceStations]compass
	bone        [boneStations]compass
}

// findPieces finds what pieces have weight on the limb's joint, and which of them
// go round the bone. One that does not may still be a part of the skin, as each of
// two half shells is: it rides on the limb where another piece does go round.
func (l *limb) findPieces(all *pieces) {
	at := map[int]int{}
	var seen []sightings
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		for v, piece := range w.piece {
			weight := w.weightOf(frame.joint, v)
			if weight == 0 || !w.used[v] {
				continue
			}
			i, known := at[piece]
			if !known {
				i = len(seen)
				at[piece] = i
				seen = append(seen, sightings{
					limbPiece: limbPiece{piece: piece, id: all.ids[piece], from: math.Inf(1), to: math.Inf(-1)},
					first:     math.Inf(1), last: math.Inf(-1),
				})
			}
			s, u := &seen[i], frame.place(w.positions, v).X
			s.vertices++
			s.from, s.to = min(s.from, u), max(s.to, u)
			s.weight += weight
			s.centre += weight * u
		}
	})
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		for _, t := range w.triangles {
			i, known := at[w.piece[t[0]]]
			if !known || w.weightOf(frame.joint, t[0])+w.weightOf(frame.joint, t[1])+w.weightOf(frame.joint, t[2]) == 0 {
				continue
			}
			for _, v := range t {
				u := frame.place(w.positions, v).X
				seen[i].first, seen[i].last = min(seen[i].first, u), max(seen[i].last, u)
			}
		}
	})
	l.eachWorn(all, func(w *piecedPrimitive, frame boneFrame) {
		for _, t := range w.triangles {
			if i, known := at[w.piece[t[0]]]; known {
				seen[i].look([3]r3.Vec{frame.place(w.positions, t[0]), frame.place(w.positions, t[1]), frame.place(w.positions, t[2])})
			}
		}
	})
	var roundBone [boneStations]bool
	for i := range seen {
		s := &seen[i]
		s.centre /= s.weight
		s.round = slices.ContainsFunc(s.own[:], compass.round)
		for k := range s.bone {
			roundBone[k] = roundBone[k] || s.bone[k].round()
		}
	}
	l.pieces = nil
	for i := range seen {
		p := seen[i].limbPiece
		station := int(min(max(p.centre, 0), 1) * boneStations)
		p.rides = !p.round && roundBone[min(station, boneStations-1)]
		l.pieces = append(l.pieces, p)
	}
}

// eachWorn goes through the primitives under the skins that have the limb's joint.
func (l *limb) eachWorn(all *pieces, do func(*piecedPrimitive, boneFrame)) {
	for i := range all.worn {
		if frame, ok := l.frames[all.worn[i].skin]; ok {
			do(&all.worn[i], frame)
		}
	}
}

// look notes in which directions from the bone a triangle is, at each station.
func (s *sightings) look(t [3]r3.Vec) {
	least, most := min(t[0].X, t[1].X, t[2].X), max(t[0].X, t[1].X, t[2].X)
	mark := func(c *compass, station float64) {
		if least <= station && most > station {
			c.mark(t, station)
		}
	}
	for k := range s.own {
		mark(&s.own[k], s.first+(s.last-s.first)*(float64(k)+0.5)/pieceStations)
	}
	for k := range s.bone {
		mark(&s.bone[k], (float64(k)+0.5)/boneStations)
	}
}
