package asset

import (
	"math"

	"github.com/pronate/pronate/chain/skin"
)

// pieceRule is what becomes of the weight that a piece has on a split joint.
type pieceRule int

const (
	splitPiece pieceRule = iota // it goes to the segments, by place along the bone
	rigidPiece                  // all of it goes to one segment
	leftPiece                   // it stays on the joint
)

func (r pieceRule) String() string { return [...]string{"split", "rigid", "excluded"}[r] }

// handover is how a vertex' weight on one split joint goes to the segments.
type handover struct {
	joint    int   // as the vertex' influences number joints, and so the segments
	segments []int // from the joint to the bone's end
	u        float64
	rule     pieceRule
	home     int // the segment, 0 for the first, that takes all where the rule is rigidPiece
}

// handOver gives a vertex' new influences, as skin.Replace does, and what that
// returns. It overwrites dst.
func handOver(dst, vertex []skin.Influence, given []handover, basis skin.Basis, most int) (held []skin.Influence, displaced float64) {
	var room [4]skin.Split
	splits := room[:0]
	for _, h := range given {
		switch h.rule {
		case splitPiece:
			splits = append(splits, skin.Split{Joint: h.joint, Segments: h.segments, U: h.u})
		case rigidPiece:
			splits = append(splits, skin.Split{Joint: h.joint, Segments: h.segments[h.home : h.home+1]})
		}
	}
	return skin.Replace(dst, vertex, splits, basis, most)
}

// homeSegment is which of so many segments a piece moves with: the one whose node
// is nearest to the piece's place along the bone, as the weights' bases have nodes,
// the first at the joint and the last at the bone's end.
func homeSegment(u float64, segments int) int {
	return int(math.Round(min(max(u, 0), 1) * float64(segments-1)))
}
