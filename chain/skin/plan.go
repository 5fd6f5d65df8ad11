package skin

import (
	"fmt"
	"math"
)

// MaxSpans is the largest answer of Spans. No bone needs a millionth of it; it
// keeps a slip of the pen from asking for more rows than there is memory.
const MaxSpans = 1 << 16

// Spans is the number of spans between segments over which a twist (radians,
// its sign does not matter) has to be shared out evenly for linear blending to
// lose no more than loss, a fraction of the radius above 0 and up to 1:
// ceil(T / (2 acos(1-loss))). No twist needs no span.
//
// A loss worked out as 1 - cos(angle) is off by an eps or so; loss is read with
// [MaxLossError]'s grace, so that such a loss at an exact multiple does not cost a
// span more.
func Spans(twist, loss float64) (int, error) {
	if math.IsNaN(twist) || math.IsInf(twist, 0) {
		return 0, fmt.Errorf("skin: twist = %v rad, expected a finite angle", twist)
	}
	if !(loss > 0 && loss <= 1) {
		return 0, fmt.Errorf("skin: loss = %v, expected a fraction above 0, at most 1", loss)
	}
	twist = math.Abs(twist)
	// acos(1-loss) without acos, which loses half its digits near 1: half the
	// angle has the tangent sqrt(loss/(2-loss)).
	widest := 4 * math.Atan2(math.Sqrt(loss), math.Sqrt(2-loss))
	count := math.Ceil(twist / widest)
	// Over one span fewer, each takes at most twice the widest, a full turn at
	// the very most, and up to there spanLoss grows.
	if count > 1 && spanLoss(twist/(count-1)) <= loss+MaxLossError {
		count--
	}
	if count > MaxSpans {
		return 0, fmt.Errorf("skin: a twist of %v rad at a loss of %v needs %.0f spans, expected at most %d", twist, loss, count, MaxSpans)
	}
	return int(count), nil
}

// MaxLossError is the rounding of a loss worked out as 1 - cos(angle): an ulp
// of the cosine (half of one is the rounding of a correctly rounded cosine, as
// much again is Go's) and one for the angle that went into it.
const MaxLossError = 2 * 0x1p-52

// spanLoss is the radius lost half way along a span with the relative twist
// angle: 1 - cos(angle/2), without cancellation.
func spanLoss(angle float64) float64 {
	sin := math.Sin(angle / 4)
	return 2 * float64(sin*sin)
}

// Segments is the number of segments that lose no more than loss under twist:
// one more than [Spans].
func Segments(twist, loss float64) (int, error) {
	spans, err := Spans(twist, loss)
	if err != nil {
		return 0, err
	}
	return spans + 1, nil
}

// PlanRow is what a number of segments costs and what it saves.
type PlanRow struct {
	Segments int
	// SpanAngle is the twist (radians, not negative) from a segment to the
	// next. A bone with one segment hands all of it to its neighbour at once.
	SpanAngle float64
	// LeastRadius is what is left of the radius half way along a span,
	// cos(SpanAngle/2); 0 from a half turn on, where the span has collapsed.
	LeastRadius float64
	// Volume is what is left of the skin's volume where the weights are linear
	// from segment to segment (VolumeFactor of the span). For one segment it is
	// that of the stretch along which the skin passes to the neighbour, and of
	// nothing else. From a half turn on it stays at a half turn's third.
	Volume float64
	// DualQuaternion is what dual-quaternion skinning leaves of the radius and
	// of the volume: all of it, 1, for turns about a common axis (Kavan et al.
	// 2008, doi 10.1145/1409625.1409627). From half a turn a span on it goes
	// the other way round, which counts as 0.
	DualQuaternion float64
	// Joints is the number of joints the skeleton gains: one a segment, none
	// where the bone stays whole.
	Joints int
}

// Plan is a table from one segment up to the number that meets the loss, and
// at least atLeast rows: twist in radians, loss as for [Spans].
func Plan(twist, loss float64, atLeast int) ([]PlanRow, error) {
	enough, err := Segments(twist, loss)
	if err != nil {
		return nil, err
	}
	if atLeast > MaxSpans {
		return nil, fmt.Errorf("skin: a plan of %d rows, expected at most %d", atLeast, MaxSpans)
	}
	rows := make([]PlanRow, max(enough, atLeast))
	for i := range rows {
		rows[i] = planRow(math.Abs(twist), i+1)
	}
	return rows, nil
}

func planRow(twist float64, segments int) PlanRow {
	row := PlanRow{Segments: segments, SpanAngle: twist / float64(max(segments-1, 1))}
	if segments > 1 {
		row.Joints = segments
	}
	if row.SpanAngle < math.Pi {
		row.LeastRadius = math.Cos(row.SpanAngle / 2)
		row.DualQuaternion = 1
	}
	row.Volume = VolumeFactor(min(row.SpanAngle, math.Pi))
	return row
}
