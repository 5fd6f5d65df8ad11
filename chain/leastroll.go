package chain

import (
	"sync"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// bestField is the best field over the limb's range by way of a centre; centre,
// axis and result are in the joint's rest frame, the range is in the anchor's
// and offset turns it there.
func (l *Limb) bestField(axis, centre r3.Vec, offset quat.Number) (*swing.Field, error) {
	if l.Centre.Mode == Auto {
		field, err := l.Range.best()
		if err != nil {
			return nil, err
		}
		return field.Turned(steady.Product(offset, l.Range.body()), axis)
	}
	region, err := l.Range.turned(offset).Region()
	if err != nil {
		return nil, err
	}
	return swing.LeastRoll(axis, centre, region, swing.Knots)
}

// solved are the best fields of ranges by way of their middles, for bodies whose
// Down is +X, Forward +Y and Out +Z or -Z. Every thigh of every character has
// the same, turned: it is worked out once. Few programs see more than a
// handful of ranges; what goes past the limit is worked out anew.
var solved struct {
	sync.Mutex
	fields map[solvedKey]*swing.Field
}

type solvedKey struct {
	flexion, abduction [2]float64
	mirrored           bool
}

const mostSolved = 64

// best is the best field over the range, in coordinates along its own
// directions.
func (r Range) best() (*swing.Field, error) {
	own := Range{Flexion: r.Flexion, Abduction: r.Abduction, Down: r3.Vec{X: 1}, Forward: r3.Vec{Y: 1}, Out: r3.Vec{Z: r.handedness()}}
	key := solvedKey{r.Flexion, r.Abduction, r.handedness() < 0}
	solved.Lock()
	defer solved.Unlock()
	if field := solved.fields[key]; field != nil {
		return field, nil
	}
	region, err := own.Region()
	if err != nil {
		return nil, err
	}
	field, err := swing.LeastRoll(own.Middle(), own.Middle(), region, swing.Knots)
	if err != nil {
		return nil, err
	}
	if solved.fields == nil {
		solved.fields = map[solvedKey]*swing.Field{}
	}
	if len(solved.fields) < mostSolved {
		solved.fields[key] = field
	}
	return field, nil
}

// handedness is 1 where Down, Forward and Out are a right-handed frame, or -1.
func (r Range) handedness() float64 {
	if steady.Dot(steady.Cross(r.Down, r.Forward), r.Out) < 0 {
		return -1
	}
	return 1
}

// body is the rotation from the directions X, Y and Z (or -Z) to the body's.
func (r Range) body() quat.Number {
	q, _ := rest.Nearest(mgl64.Mat3FromCols(
		rest.VecToMgl64(r.Down), rest.VecToMgl64(r.Forward), rest.VecToMgl64(r3.Scale(r.handedness(), r.Out)),
	))
	return q
}
