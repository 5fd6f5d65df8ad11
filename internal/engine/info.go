package engine

import (
	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// Info is what a limb has become: pronate_limb_info, which has the same layout.
type Info struct {
	Size                       uint32 // of the struct
	Segments                   int32
	Field                      int32 // chain.Shortest, Centred, LeastRoll or Balanced
	HasRange, HasTip, Reserved int32
	Axis, Centre               [3]float64 // unit, in the joint's frame
	Shares, TipShares          [chain.MaxSegments]float64
	Fingerprint                uint64
}

// InfoSize is the struct's, in bytes.
const InfoSize = 4*6 + 8*(3+3+2*chain.MaxSegments+1)

// Describe tells what the limb has become.
func (l *Limb) Describe() Info {
	s := l.solver
	info := Info{
		Size: InfoSize, Segments: int32(s.Segments()), Field: int32(s.FieldKind()),
		HasRange: flag(!s.Range().IsZero()), HasTip: flag(l.hasTip),
		Axis: components(s.Axis()), Centre: components(s.Centre()), Fingerprint: l.fingerprint(),
	}
	own, tip := s.Shares()
	copy(info.Shares[:], own)
	copy(info.TipShares[:], tip)
	return info
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func flag(is bool) int32 {
	if is {
		return 1
	}
	return 0
}
